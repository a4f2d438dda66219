import type { PitchName } from '../pitch/pitch.ts';
import {
  QUARTER,
  type Bar,
  type KeyAt,
  type Meter,
  type Note,
  type Score,
  type Tempo,
  type Ticks,
  type Voice,
} from './score.ts';

/** Ticks of the note that a lower figure names: 4 → a quarter. */
export function unitTicks(unit: number): Ticks {
  return (QUARTER * 4) / unit;
}

/** Ticks of a full bar; null where there is no meter. */
export function barLength(meter: Meter): Ticks | null {
  return meter.beats === null ? null : meter.beats * unitTicks(meter.unit);
}

/**
 * Where people tap their foot, in ticks: 6/8, 9/8 and 12/8 in threes, 2/2 and 3/2 in halves, else the lower
 * figure's note (common practice: compound meters have an upper figure of 6, 9 or 12 over 8 or 16).
 */
export function feltBeat(meter: Meter): Ticks {
  const compound =
    meter.beats !== null && meter.unit >= 8 && meter.beats > 3 && meter.beats % 3 === 0;
  return unitTicks(meter.unit) * (compound ? 3 : 1);
}

/** The last entry that has begun at a moment. The list is in order and its first entry stands at 0. */
export function inForce<T extends { readonly at: Ticks }>(list: readonly T[], at: Ticks): T {
  let low = 0;
  let high = list.length - 1;
  while (low < high) {
    const middle = (low + high + 1) >> 1;
    if ((list[middle] as T).at <= at) low = middle;
    else high = middle - 1;
  }
  const found = list[low];
  if (!found) throw new RangeError('nothing is in force on an empty list');
  return found;
}

export function keyAt(score: Score, at: Ticks): KeyAt {
  return inForce(score.keys, at);
}

export function meterAt(score: Score, at: Ticks): Meter {
  return inForce(score.meters, at).meter;
}

/** The tempo that is in force at a moment; null: none is said until then. */
export function tempoAt(
  { tempo, tempoChanges }: Pick<Score, 'tempo' | 'tempoChanges'>,
  at: Ticks,
): Tempo | null {
  return tempoChanges?.findLast((each) => each.at <= at)?.tempo ?? tempo;
}

export function barAt(score: Score, at: Ticks): Bar {
  return inForce(score.bars, at);
}

/** Where the last bar ends. */
export function endOf(score: Score): Ticks {
  const last = score.bars.at(-1);
  return last ? last.at + last.length : 0;
}

/** The voice that carries the tune; throws where the score names one that it has not. */
export function melodyOf(score: Score): Voice {
  const voice = score.voices.find((each) => each.id === score.melody);
  if (!voice) throw new RangeError(`no voice ${score.melody}`);
  return voice;
}

/**
 * The beat that is counted aloud and that a tempo is said in: the felt one, but where the tempo is given for the lower
 * figure's own note (an eighth in 6/8) that note.
 */
export function countedBeat(meter: Meter, tempo: Tempo | null): Ticks {
  const unit = unitTicks(meter.unit);
  return tempo?.beat === unit ? unit : feltBeat(meter);
}

/** A tempo in the beat that is counted, to the nearest whole beat a minute; in free meter as it is given. */
export function countedTempo(meter: Meter, tempo: Tempo | null): Tempo | null {
  if (!tempo || meter.beats === null) return tempo;
  const beat = countedBeat(meter, tempo);
  return { beat, perMinute: Math.round((tempo.perMinute * tempo.beat) / beat) };
}

/** Whether a bar is the second half of one that a double line or a repeat cuts in two. */
export function isSecondHalf(score: Score, index: number): boolean {
  const [first, bar] = [score.bars[index - 1], score.bars[index]];
  if (!first || !bar || first.number !== bar.number || first.copyOf !== bar.copyOf) return false;
  // A bar that is written again behind itself is whole.
  if (first.length === barLength(meterAt(score, first.at))) return false;
  return bar.number !== 0 || bar.copyOf !== undefined;
}

/** Whether a bar is the pickup that the singers begin with, also where an introduction stands before it. */
export function isPickup(bar: Bar): boolean {
  return bar.number === 0 && bar.copyOf === undefined;
}

/** A place as musicians say it; beats count the meter's lower figure from 1 and may be a fraction (2.5). */
export interface Place {
  readonly bar: number;
  readonly beat: number;
}

/** A pickup's beats are counted as if its bar were full, so that one beat of pickup in 4/4 is beat 4. */
export function placeOf(score: Score, at: Ticks): Place {
  const bar = barAt(score, at);
  const meter = meterAt(score, bar.at);
  const full = barLength(meter);
  const index = score.bars.indexOf(bar);
  // The second half of a bar that is cut in two goes on counting.
  const half = isSecondHalf(score, index) ? (score.bars[index - 1]?.length ?? 0) : 0;
  const pickup = isPickup(bar) && full !== null && full > bar.length ? full - bar.length : 0;
  const missing = half + pickup;
  return { bar: bar.number, beat: 1 + (at - bar.at + missing) / unitTicks(meter.unit) };
}

/** A note as it sounds: tied notes are one. */
export interface SoundingNote {
  readonly at: Ticks;
  readonly length: Ticks;
  readonly pitch: PitchName;
}

/** Every sounding note of a voice, ties joined, rests left out, in order (chords low to high). */
export function soundingNotes(voice: Voice): SoundingNote[] {
  const sounding: { at: Ticks; length: Ticks; pitch: PitchName }[] = [];
  let held = new Map<PitchName, { at: Ticks; length: Ticks; pitch: PitchName }>();
  for (const note of voice.notes) {
    const next: typeof held = new Map();
    for (const pitch of note.pitches) {
      const before = held.get(pitch);
      const entry = before ?? { at: note.at, length: 0, pitch };
      entry.length += note.length;
      if (!before) sounding.push(entry);
      if (note.tie) next.set(pitch, entry);
    }
    held = next;
  }
  return sounding;
}

/** What a voice holds at a moment (a rest counts), or null past its end. */
export function noteAt(voice: Voice, at: Ticks): Note | null {
  if (voice.notes.length === 0) return null;
  const note = inForce(voice.notes, at);
  return note.at <= at && at < note.at + note.length ? note : null;
}
