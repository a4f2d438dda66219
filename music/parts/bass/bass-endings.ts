import type { Note, Ticks } from '../../score/score.ts';
import type { BassNote } from './bass-line.ts';
import type { BassSong } from './bass-song.ts';
import { lastHeld, type PlacedEnding } from '../form/endings.ts';

/**
 * The notes of a bass with its endings: in a quiet one each chord's own note, struck where the chord or a bar begins, whatever
 * the drums do; in both the last chord's note struck once and held, a piece for each bar.
 */
export function withBassEndings(song: BassSong, notes: readonly BassNote[]): BassNote[] {
  return song.endings.reduce((all, ending) => ended(song, all, ending), [...notes]);
}

function ended(song: BassSong, notes: readonly BassNote[], ending: PlacedEnding): BassNote[] {
  const held = lastHeld(song.score, song.chords, ending);
  if (!held) return [...notes];
  const calm = ending.ending === 'quiet' ? ending.from : held.from;
  const starts = new Set(song.score.bars.map(({ at }) => at));
  const all: BassNote[] = [];
  for (const note of notes) {
    const before = all.at(-1);
    const inside = note.from >= calm && note.from < ending.to;
    const again =
      before?.chord === note.chord &&
      before.to === note.from &&
      before.from >= calm &&
      note.from !== held.from &&
      !starts.has(note.from);
    if (inside && again) all[all.length - 1] = { ...before, to: note.to };
    else if (inside)
      all.push({ ...note, ...ownNote(notes, note), role: note.role === 'bass' ? 'bass' : 'again' });
    else all.push(note);
  }
  return all;
}

/** What stands under the chord of a note as it begins. */
function ownNote(notes: readonly BassNote[], { chord, pitch }: BassNote): Pick<BassNote, 'pitch'> {
  const own = notes.find((each) => each.chord === chord && each.role === 'bass');
  return { pitch: own?.pitch ?? pitch };
}

/** The notes of the voice with the signs of its endings: soft, held over the bar line, a fermata. */
export function withEndingSigns(song: BassSong, notes: readonly Note[]): Note[] {
  return song.endings.reduce((all, ending) => signed(song, all, ending), [...notes]);
}

function signed(song: BassSong, notes: readonly Note[], ending: PlacedEnding): Note[] {
  const held = lastHeld(song.score, song.chords, ending);
  if (!held) return [...notes];
  const sounds = ({ pitches }: Note) => pitches.length > 0;
  const within = (at: Ticks, from: Ticks, to: Ticks) => at >= from && at < to;
  const last = notes.findLastIndex((note) => sounds(note) && within(note.at, held.from, held.to));
  return notes.map((note, i): Note => {
    if (!sounds(note)) return note;
    const soft = ending.ending === 'quiet' && within(note.at, ending.from, ending.to);
    const tie = i < last && within(note.at, held.from, held.to);
    return {
      ...note,
      ...(soft ? { soft: true as const } : {}),
      ...(tie ? { tie: true as const } : {}),
      ...(i === last ? { fermata: true as const } : {}),
    };
  });
}
