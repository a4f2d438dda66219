import type { Problem } from '../../result.ts';
import { gridOf, notes as quantise } from '../../score/quantise.ts';
import { QUARTER, type MeterAt, type Ticks } from '../../score/score.ts';
import { feltBeat } from '../../score/time.ts';
import { quoted } from '../report.ts';
import { hasChords, type MidiPart, type PartNote } from './parts.ts';

/**
 * Divisions of a quarter that notation writes: to the 64th note, in thirds of each down to a 16th, and fifths, sevenths and
 * ninths of the quarter. Notes of which every beginning lies on one of them were written, not played.
 */
const WRITTEN = [1, 2, 4, 8, 16, 3, 6, 12, 24, 5, 7, 9].map((parts) => QUARTER / parts);
/** Of ends fewer: a note that sounds for nine tenths of its length is one that a program let go early. */
const GAP = QUARTER / 4;
/** An end this near to a plain place was meant for it. */
const NEAR = QUARTER / 16;

/** The written moment within half a tick of the file, or null. */
function written(moment: Ticks, tick: number): Ticks | null {
  for (const step of WRITTEN) {
    const near = Math.round(moment / step) * step;
    if (Math.abs(near - moment) * 2 <= tick) return near;
  }
  return null;
}

/**
 * Gives the notes of a part their written places. A part that was written keeps them; one that was played is put on
 * the grid of its meter, and it is said how far its notes were moved.
 *
 * @param tick length of a tick of the file on the time line of the score
 */
export function evenOut(
  part: MidiPart,
  meters: readonly MeterAt[],
  tick: number,
  warnings: Problem[],
): PartNote[] {
  return asWritten(part, tick) ?? asPlayed(part, meters, warnings);
}

/** Null: the part was played. Of notes that are struck alike half may stand where nothing is written: tuplets off the beat. */
function asWritten(part: MidiPart, tick: number): PartNote[] | null {
  const played = part.notes;
  const most = part.isEven ? played.length / 2 : 0;
  const starts = played.map(({ at }) => written(at, tick));
  // The second note of such a tuplet stands a written length behind the first.
  const steps = played.map(({ at }, i) => written(at - (played[i - 1]?.at ?? 0), tick));
  if (
    missing(starts.map((start, i) => start ?? (part.isEven ? (steps[i] ?? null) : null))) > most
  ) {
    return null;
  }
  const notes = played.map((note, i): PartNote => ({ ...note, at: starts[i] ?? note.at }));
  const next = nextStarts(notes.map(({ at }) => at));
  const ends = notes.map(({ at, end }) => {
    const isLength = part.isEven && written(end - at, tick) !== null;
    return written(end, tick) ?? (isLength ? end : null);
  });
  // Let go early, or held over, by a little again and again: that is how a program plays, not what is written.
  const apart = notes.filter(({ at, end }, i) => {
    const gap = Math.abs((next[i] ?? Infinity) - end);
    return gap > tick && gap <= GAP && gap * 4 < (next[i] ?? 0) - at;
  });
  const keepsEnds = missing(ends) <= most && !isHabit(apart, notes);
  const isSingle = !hasChords(part);
  return notes.map((note, i) => {
    const end = keepsEnds ? (ends[i] ?? note.end) : fullEnd(note, next[i] ?? Infinity, isSingle);
    return { ...note, end: Math.max(end, note.at + QUARTER / 64) };
  });
}

const onsets = (notes: readonly PartNote[]): number => new Set(notes.map(({ at }) => at)).size;

/** At least four times, and at least half of the times. */
function isHabit(some: readonly PartNote[], all: readonly PartNote[]): boolean {
  const count = onsets(some);
  return count >= 4 && count * 2 >= onsets(all);
}

const missing = (places: readonly (Ticks | null)[]): number =>
  places.filter((place) => place === null).length;

/**
 * Where a note ends that was let go early or late: on a sixteenth or an eighth of a triplet that is very near, else at the next
 * note where that is near (one that is held over it only in a part with one note at a time), else on the nearest sixteenth.
 */
function fullEnd({ at, end }: PartNote, next: Ticks, isSingle: boolean): Ticks {
  const [straight, third] = [QUARTER / 4, QUARTER / 3].map((step) => Math.round(end / step) * step);
  const places = [straight ?? end, third ?? end].filter((place) => place > at);
  const near = places.find((place) => Math.abs(place - end) <= NEAR);
  if (near !== undefined && (near <= next || !isSingle)) return near;
  const gap = next - end;
  if (gap <= GAP && gap >= (isSingle ? -GAP : 0)) return next;
  return places[0] ?? at + QUARTER / 4;
}

/** For every note the moment of the next one that begins later. */
function nextStarts(starts: readonly Ticks[]): (Ticks | undefined)[] {
  const next: (Ticks | undefined)[] = [];
  for (let i = starts.length - 1; i >= 0; i -= 1) {
    const after = starts[i + 1];
    next[i] = after === undefined || after > (starts[i] ?? 0) ? after : next[i + 1];
  }
  return next;
}

function asPlayed(part: MidiPart, meters: readonly MeterAt[], warnings: Problem[]): PartNote[] {
  const found: PartNote[] = [];
  let [sum, most] = [0, 0];
  meters.forEach(({ at, meter }, i) => {
    const to = meters[i + 1]?.at ?? Infinity;
    const from = i === 0 ? -Infinity : at;
    const inside = part.notes.filter((note) => note.at >= from && note.at < to);
    if (inside.length === 0) return;
    const beat = feltBeat(meter);
    const quantised = quantise(inside, { beat, start: at, beatTicks: beat, grid: gridOf(meter) });
    for (const { index, at: place, length } of quantised.notes) {
      const start = Math.max(0, at + place);
      found.push({ midi: inside[index]?.midi ?? 0, at: start, end: start + length });
    }
    sum += quantised.moved.mean * inside.length;
    most = Math.max(most, quantised.moved.most);
  });
  const percent = (share: number): string => `${String(Math.round(share * 100))} %`;
  const mean = sum / Math.max(1, part.notes.length);
  const free =
    mean > 0.15
      ? ' That is much: perhaps it was played without a click, and its bars are not in the file.'
      : '';
  const message = `The ${String(part.notes.length)} notes of ${quoted(part.name)} were played, not written; they are put on the nearest places of the beat, moved by ${percent(mean)} of a beat on average and ${percent(most)} at most.${free}`;
  warnings.push({ code: 'guess-rhythm', message });
  return found.sort((a, b) => a.at - b.at || b.midi - a.midi);
}
