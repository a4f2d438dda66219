import type { Note, Ticks } from '../../score/score.ts';
import { lastHeld, type PlacedEnding } from '../form/endings.ts';
import { heldNotes, type HeldShape } from '../held-notes.ts';
import type { HandLine } from './hand-line.ts';
import type { KeysSong } from './keys-song.ts';

/**
 * A hand's line with the endings of the song: in a quiet one what the hand has under each chord, held and soft, struck again
 * at each bar line; in both the last chord, whole, struck once and held over the bar line, with a fermata.
 */
export function withHandEndings(song: KeysSong, line: HandLine): HandLine {
  const notes = song.endings.reduce((all, ending) => ended(song, line, all, ending), line.notes);
  return { ...line, notes };
}

function ended(
  song: KeysSong,
  { held: shapes }: HandLine,
  notes: readonly Note[],
  ending: PlacedEnding,
): readonly Note[] {
  const { score, chords } = song;
  const last = lastHeld(score, chords, ending);
  if (!last) return notes;
  const from = ending.ending === 'quiet' ? ending.from : last.from;
  const { to } = ending;
  const spans = chords.flatMap(({ at, length }, chord): HeldShape[] => {
    const shape = shapes[chord];
    if (!shape || at >= to || at + length <= from) return [];
    const span = { from: Math.max(at, from), to: Math.min(at + length, to), shape };
    // What lasts into the last bars is struck again there.
    return chord === last.chord && span.from < last.from
      ? [
          { ...span, to: last.from },
          { ...span, from: last.from },
        ]
      : [span];
  });
  const bars = score.bars.filter(({ at, length }) => at < to && at + length > from);
  const inside = heldNotes(bars, spans)
    .filter(({ at }) => at >= from && at < to)
    .map((note) => ({ ...note, length: Math.min(note.length, to - note.at) }));
  return [
    ...notes
      .filter(({ at }) => at < from)
      .map((note) => (note.at + note.length > from ? cutAt(note, from) : note)),
    ...inside.map((note) => signed(note, ending, last)),
    ...notes.filter(({ at }) => at >= to),
  ];
}

function cutAt(note: Note, to: Ticks): Note {
  const { beam: _, ...rest } = note;
  return { ...rest, length: to - note.at };
}

function signed(
  note: Note,
  { ending }: PlacedEnding,
  last: { readonly from: Ticks; readonly to: Ticks },
): Note {
  if (note.pitches.length === 0) return note;
  const isLast = note.at >= last.from;
  const goesOn = isLast && note.at + note.length < last.to;
  return {
    ...note,
    ...(ending === 'quiet' ? { soft: true as const } : {}),
    ...(goesOn ? { tie: true as const } : {}),
    ...(isLast && !goesOn ? { fermata: true as const } : {}),
  };
}

/**
 * The song as fills see it: none in a chord that reaches into a quiet ending, as they come on the fourth rung.
 */
export function withoutFills(song: KeysSong): KeysSong {
  const quiet = song.endings.filter(({ ending }) => ending === 'quiet');
  if (quiet.length === 0) return song;
  const isQuiet = (at: Ticks): boolean => {
    const chord = song.chords.find((each) => each.at <= at && at < each.at + each.length);
    const end = chord ? chord.at + chord.length : at + 1;
    return quiet.some(({ from, to }) => at < to && end > from);
  };
  const rungsAt = (at: Ticks) => {
    const rungs = song.rungsAt(at);
    return isQuiet(at) && rungs.right === 4 ? { ...rungs, right: 3 as const } : rungs;
  };
  return { ...song, rungsAt };
}
