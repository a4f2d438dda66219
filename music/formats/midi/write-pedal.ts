import { QUARTER, type Note, type Ticks, type Voice } from '../../score/score.ts';
import type { Event } from './write-bytes.ts';
import { pedalEvent } from './write-bytes.ts';
import type { Played } from './write-plan.ts';

/** The foot going down or up, on the time line of the file. */
interface PedalMove {
  readonly at: Ticks;
  readonly isDown: boolean;
}

/** A note of the file; `begins`: here, not in a stretch before. */
type PlacedNote = Pick<Note, 'at' | 'length' | 'pitches' | 'pedal'> & { readonly begins: boolean };

interface Line {
  readonly voice: Voice;
  readonly notes: readonly PlacedNote[];
}

/**
 * How long after a chord the foot comes down: a 32nd note, so that the old strings have stopped (at 60 to 120 quarters a
 * minute 125 to 63 ms; ours, as no published value was seen), at most half of the shortest note that is
 * struck there, so that the fingers hold it still, and half of the time until the next mark.
 */
const LATER: Ticks = QUARTER / 8;

/** Whether the foot is down before a moment of the score, read from beginning to end. */
function isDownBefore(marks: readonly Note[], at: Ticks): boolean {
  const last = marks.findLast((note) => note.at < at);
  return last !== undefined && last.pedal !== 'up';
}

/**
 * When the foot moves in voices of one instrument. At each mark the pedal goes up as the new notes sound and down a little
 * later (`LATER`). Where the song goes on in another place than is printed next, it is pressed anew, or let go where
 * that place has none. It is up at the end.
 */
function pedalMoves(lines: readonly Line[], played: readonly Played[]): PedalMove[] {
  const printed = lines
    .flatMap(({ voice }) => voice.notes.filter(({ pedal }) => pedal !== undefined))
    .sort((a, b) => a.at - b.at);
  if (printed.length === 0) return [];
  const notes = lines.flatMap((line) => line.notes);
  const marks = new Map<Ticks, boolean>();
  played.forEach(({ from, at }, i) => {
    if (i === 0 || played[i - 1]?.to !== from) marks.set(at, isDownBefore(printed, from));
  });
  const marked = notes.filter(({ begins, pedal }) => begins && pedal !== undefined);
  for (const { at, pedal } of marked) if (pedal === 'up') marks.set(at, false);
  for (const { at, pedal } of marked) if (pedal !== 'up') marks.set(at, true);
  const end = Math.max(...notes.map(({ at, length }) => at + length));
  const shortest = new Map<Ticks, Ticks>();
  for (const { at, length, pitches } of notes)
    if (pitches.length > 0) shortest.set(at, Math.min(length, shortest.get(at) ?? length));
  const moves: PedalMove[] = [];
  const inOrder = [...marks].sort(([a], [b]) => a - b);
  inOrder.forEach(([at, down], i) => {
    if (moves.at(-1)?.isDown) moves.push({ at, isDown: false });
    const next = inOrder[i + 1]?.[0] ?? end;
    const room = Math.min(next - at, shortest.get(at) ?? Infinity);
    if (down) moves.push({ at: at + Math.min(LATER, room / 2), isDown: true });
  });
  if (moves.at(-1)?.isDown) moves.push({ at: end, isDown: false });
  return moves;
}

/** The pedal of each instrument, by group of voices; `channel` is one of those it sounds on: it needs the pedal on each. */
export function pedalsOf(
  lines: readonly Line[],
  played: readonly Played[],
  ticks: (moment: Ticks) => number,
): (group: string, channel: number) => Event[] {
  const groups = new Set(lines.map(({ voice }) => voice.group));
  const moves = new Map(
    [...groups].map((group) => {
      const own = lines.filter(({ voice }) => voice.group === group);
      return [group, pedalMoves(own, played)] as const;
    }),
  );
  return (group, channel) =>
    (moves.get(group) ?? []).map(({ at, isDown }) => pedalEvent(channel, isDown, ticks(at)));
}
