import type { Note, Voice } from '../../score/score.ts';
import { clefByPitch } from '../clef-by-pitch.ts';
import type { ReadNote } from './layer.ts';
import { plain } from './text.ts';
import type { ReadTune } from './read-tune.ts';
import type { VoiceReader } from './voice-reader.ts';

/** The voices of a score: their staves from the top, groups, clefs and notes. */
export function finishVoices(tune: ReadTune, voices: readonly VoiceReader[]): Voice[] {
  const staffNumbers: number[] = [];
  const ids = new Set(voices.map((voice) => voice.settings.id));
  let free = 0;
  for (const place of tune.staves?.values() ?? []) free = Math.max(free, place.staff);
  const clefs = new Map<number, Voice['clef']>();
  const groups = new Map<string, string>();
  for (const { name, value } of tune.own) {
    if (name !== 'group') continue;
    const [group = '', ...members] = value.split(' ');
    for (const id of members) groups.set(id, plain(group));
  }
  return voices.flatMap((voice) => {
    const { id, name } = voice.settings;
    const place = tune.staves?.get(id) ?? { staff: (free += 1), brace: null };
    if (!staffNumbers.includes(place.staff)) staffNumbers.push(place.staff);
    const staff = staffNumbers.indexOf(place.staff) + 1;
    const group = groups.get(id) ?? (place.brace === null ? 'Hymn' : 'Keyboard');
    const clef = voice.settings.clef ?? clefs.get(staff) ?? clefByPitch(voice.main.notes);
    if (!clefs.has(staff)) clefs.set(staff, clef);
    const own: Voice = { id, name, group, staff, clef, notes: voice.main.notes.map(finished) };
    const over = voice.overlays
      .filter((layer) => layer.notes.some((note) => note.pitches.length > 0 || !note.hidden))
      .map((layer, i): Voice => {
        const overId = freeId(id, i, ids);
        return { id: overId, name: overId, group, staff, clef, notes: layer.notes.map(finished) };
      });
    return [own, ...over];
  });
}

/** What `&` lays over a voice becomes a voice of its own: `S2b`, `S2c`. */
function freeId(id: string, index: number, taken: Set<string>): string {
  let name = id + String.fromCharCode(98 + index);
  while (taken.has(name)) name += 'b';
  taken.add(name);
  return name;
}

function finished(note: ReadNote): Note {
  const syllables = [...note.syllables];
  while (syllables.length > 0 && !syllables.at(-1)) syllables.pop();
  return {
    at: note.at,
    length: note.length,
    pitches: note.pitches,
    ...(note.tie && { tie: true as const }),
    ...(syllables.length > 0 && { syllables }),
    ...(note.slurStarts > 0 && { slurStarts: note.slurStarts }),
    ...(note.slurEnds > 0 && { slurEnds: note.slurEnds }),
    ...(note.fermata && { fermata: true as const }),
    ...(note.tuplet && { tuplet: note.tuplet }),
    ...(note.grace.length > 0 && { grace: note.grace }),
    ...(note.hidden && { hidden: true as const }),
    ...(note.beam && { beam: true as const }),
    ...(note.fingers.length > 0 && { fingers: note.fingers }),
    ...(note.signs.length > 0 && { signs: note.signs }),
  };
}
