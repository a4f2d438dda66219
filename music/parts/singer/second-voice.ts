import { plusOctaves, transposePitch, UNISON } from '../../pitch/interval.ts';
import { midiOf } from '../../pitch/pitch.ts';
import type { Note, Score, Voice } from '../../score/score.ts';
import { melodyOf } from '../../score/time.ts';
import { table } from '../../voice/fit-table.ts';
import type { FitRow } from '../../voice/fit-row.ts';
import {
  line,
  octaveAlong,
  tuneOf,
  type HarmonyCostKind,
  type HarmonyLine,
} from '../../voice/harmony/line.ts';
import type { Octave, Range } from '../../voice/range.ts';
import type { Team } from '../arrangement.ts';
import { clefFor } from './singer-clef.ts';
import type { UnisonSong } from './unison.ts';
import { writtenVoiceFor } from './written-voice.ts';

/** What somebody sings beside the tune. */
export interface SecondVoice {
  /** `alto`; null: it is made, not written. */
  readonly written: string | null;
  /** The line that is made; null: it is written. */
  readonly made: HarmonyLine | null;
  /** The song with it in the place of the tune, as it sounds. */
  readonly song: Score;
  /** How it lies in the singer's range. */
  readonly row: FitRow;
  /** Who sings the same, by name; null: nobody who is known. */
  readonly sharedWith: string | null;
  /** The tune as it is heard beside it. */
  readonly tune: Voice;
  /** Whoever leads sings it an octave lower than it is written. */
  readonly isTuneLower: boolean;
}

/** Why there is none: `no-tune`, `no-chords`, `no-room`; `forced`: what this range leaves would hurt. */
export type NoSecondVoice = 'no-tune' | 'no-chords' | 'no-room' | 'forced';

/**
 * Of the time, ours: a line that rubs against the tune (seconds and half steps on a beat), or lies outside its chords or over the
 * tune for longer than that, is none. It takes a range of a third or so to come to that.
 */
const FORCED: readonly { readonly kinds: readonly HarmonyCostKind[]; readonly share: number }[] = [
  { kinds: ['second', 'halfStep'], share: 1 / 20 },
  { kinds: ['foreign', 'crossing'], share: 1 / 4 },
];

interface Singer {
  readonly id: string;
  readonly name: string;
  readonly voice: Range;
}

/**
 * The line of a singer beside the tune: the written voice that lies best in this range; where none sits there, a line made
 * from the tune and its chords. Who comes before in `team.harmonies` has theirs already: a written voice is sung twice only
 * where no other sits, and a line is made beside theirs. In unison sections it is the tune.
 */
export function secondVoiceFor(
  { score, unison }: UnisonSong,
  player: Singer,
  team: Team,
): SecondVoice | NoSecondVoice {
  const place = team.harmonies?.findIndex(({ id }) => id === player.id) ?? -1;
  const before = place < 0 ? [] : (team.harmonies ?? []).slice(0, place);
  const tune = octaveOfLead(score, team.leadVoice ?? null);
  const taken: { readonly name: string; readonly voice: SecondVoice }[] = [];
  for (const singer of before) {
    const voice = voiceFor(score, unison, singer, tune, taken);
    if (typeof voice !== 'string') taken.push({ name: singer.name, voice });
  }
  return voiceFor(score, unison, player, tune, taken);
}

/** In which octave the tune is heard: as whoever leads sings it. */
export function octaveOfLead(song: Score, range: Range | null): Octave {
  const octave = range ? rowOf(song, 'lead', range)?.octave : undefined;
  return octave === 'octave below' ? octave : 'as written';
}

function rowOf(song: Score, name: string, range: Range, reads?: Octave): FitRow | null {
  const key = song.keys[0]?.key;
  if (!key) return null;
  const singer = { id: name, name, comfortable: range, ...(reads ? { reads } : {}) };
  return table(song, [singer], { keys: [key] }).rows[0] ?? null;
}

function voiceFor(
  song: Score,
  unison: ReadonlySet<string>,
  { name, voice: range }: Singer,
  tune: Octave,
  taken: readonly { readonly name: string; readonly voice: SecondVoice }[],
): SecondVoice | NoSecondVoice {
  const heard = { tune: heardTune(song, tune), isTuneLower: tune === 'octave below' };
  const names = taken.flatMap(({ voice }) => voice.written ?? []);
  const written = writtenVoiceFor(song, name, range, names);
  if (written) {
    const whole = withTuneIn(unison, song, written.song, range);
    const row = unison.size > 0 ? rowOf(whole, name, range, 'as written') : null;
    const other = taken.find(({ voice }) => voice.written === written.name)?.name ?? null;
    return { written: written.name, made: null, song: whole, row: row ?? written.row, sharedWith: other, ...heard }; // prettier-ignore
  }
  const split = song.sections.map(({ id }) => id).filter((id) => !unison.has(id));
  const others = taken.map(({ voice }) => melodyOf(voice.song));
  const singer = { id: name, name, comfortable: range };
  const found = line(song, singer, { tune, others, ...(unison.size > 0 ? { split } : {}) });
  if (!found.ok) return (found.problems[0]?.code ?? 'no-tune') as NoSecondVoice;
  const made = found.value;
  if (isForced(made)) return 'forced';
  const own = asMelody(song, { ...made.voice, clef: clefFor(made.voice.notes, range) });
  const row = rowOf(own, name, range, 'as written');
  if (!row) return 'no-tune';
  const same = others.findIndex((other) => soundsLike(other, made.voice));
  return { written: null, made, song: own, row, sharedWith: taken[same]?.name ?? null, ...heard };
}

function heardTune(song: Score, octave: Octave): Voice {
  const voice = melodyOf(song);
  const down = plusOctaves(UNISON, octave === 'octave below' ? -1 : 0);
  const notes = voice.notes.map(({ fingers: _few, above: _words, ...note }): Note => ({
    ...note,
    pitches: note.pitches.slice(-1).map((pitch) => transposePitch(pitch, down)),
  }));
  return { ...voice, notes };
}

function isForced({ notes }: HarmonyLine): boolean {
  const sung = notes.filter(({ isAlong }) => !isAlong);
  const time = (some: typeof sung) => some.reduce((sum, { length }) => sum + length, 0);
  return FORCED.some(({ kinds, share }) => {
    const own = sung.filter(({ costs }) => costs.some(({ kind }) => kinds.includes(kind)));
    return time(own) > share * time(sung);
  });
}

const soundsLike = (a: Voice, b: Voice): boolean =>
  a.notes.map(({ at, pitches }) => `${at} ${pitches.join()}`).join() ===
  b.notes.map(({ at, pitches }) => `${at} ${pitches.join()}`).join();

/** The song with a line in the place of its tune. */
function asMelody(song: Score, voice: Voice): Score {
  const others = song.voices.filter(({ id }) => id !== voice.id);
  return { ...song, melody: voice.id, voices: [...others, voice] };
}

/** A written voice with the tune in its place where everybody sings that, in the octave that lies better. */
function withTuneIn(unison: ReadonlySet<string>, song: Score, sung: Score, range: Range): Score {
  if (unison.size === 0) return sung;
  const sections = song.sections.filter(({ id }) => unison.has(id));
  const isUnison = (at: number) => sections.some(({ from, to }) => at >= from && at < to);
  const tune = melodyOf(song);
  const along = tuneOf(tune).filter(({ at }) => isUnison(at));
  const by = octaveAlong(
    along.map(({ pitch, length }) => ({ midi: midiOf(pitch), length })),
    { low: midiOf(range.low), high: midiOf(range.high) },
  );
  const down = plusOctaves(UNISON, by / 12);
  const own = tune.notes
    .filter(({ at }) => isUnison(at))
    .map((note): Note => {
      const pitches = note.pitches.slice(-1).map((pitch) => transposePitch(pitch, down));
      return { ...note, pitches };
    });
  const voice = melodyOf(sung);
  const notes = [...voice.notes.filter(({ at }) => !isUnison(at)), ...own];
  notes.sort((a, b) => a.at - b.at);
  return asMelody(sung, { ...voice, clef: clefFor(notes, range), notes });
}
