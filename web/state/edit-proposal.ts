import {
  Editing,
  Pitches,
  Quantise,
  Time,
  type Edit,
  type PitchName,
  type Score,
  type Ticks,
} from '#music';
import { spelled } from './edit-pitches.ts';
import { signatureAt, type Hand } from './edit-place.ts';

/** A key that was struck along the click, in ms from where the first bar after the count-in begins. */
export interface Struck {
  readonly midi: number;
  readonly at: number;
  readonly end: number;
}

/** How finely the beat may be divided. */
export type Fineness = 'halves' | 'quarters' | 'thirds';

export interface ProposedNote {
  readonly at: Ticks;
  readonly length: Ticks;
  readonly pitches: readonly PitchName[];
  readonly tuplet?: { readonly actual: number; readonly normal: number };
  /** How far its beginning was moved, ms; positive: it was early and stands later now. */
  readonly moved: number;
}

/** What was played, as it would be written. */
export interface Proposal {
  readonly notes: readonly ProposedNote[];
  /** Mean and greatest distance moved, ms. */
  readonly mean: number;
  readonly most: number;
}

const DIVISIONS: Readonly<Record<Fineness, readonly Quantise.Division[]>> = {
  halves: [{ parts: 2, price: 0 }],
  quarters: [
    { parts: 2, price: 0 },
    { parts: 4, price: 0.002 },
  ],
  thirds: [
    { parts: 2, price: 0 },
    { parts: 4, price: 0.002 },
    { parts: 3, price: 0.006 },
  ],
};

/** The grid of a place: a compound beat is divided as its meter has it. */
function gridAt(score: Score, at: Ticks, fineness: Fineness): readonly Quantise.Division[] {
  const meter = Time.meterAt(score, at);
  const isCompound = Time.feltBeat(meter) !== Time.unitTicks(meter.unit);
  return isCompound ? Quantise.gridOf(meter) : DIVISIONS[fineness];
}

/**
 * What was played as notes from the hand on. Keys struck together are one note; in one voice a note ends where the next
 * begins, at the latest.
 * @param beat ms
 */
export function propose(
  struck: readonly Struck[],
  score: Score,
  hand: Hand,
  beat: number,
  fineness: Fineness,
): Proposal {
  const at = Math.min(hand.at, Math.max(0, Time.endOf(score) - 1));
  const meter = Time.meterAt(score, at);
  const beatTicks = Time.feltBeat(meter);
  const quantised = Quantise.notes(struck, { beat, beatTicks, grid: gridAt(score, at, fineness) });
  const byPlace = new Map<Ticks, { midis: Set<number>; length: Ticks; moved: number }>();
  for (const { index, at: place, length, moved } of quantised.notes) {
    const midi = struck[index]?.midi ?? 60;
    const here = byPlace.get(place);
    if (here) {
      here.midis.add(midi);
      here.length = Math.max(here.length, length);
    } else byPlace.set(place, { midis: new Set([midi]), length, moved: moved * beat });
  }
  const places = [...byPlace.keys()].sort((a, b) => a - b);
  const isThird = (ticks: Ticks): boolean => (ticks * 4) % beatTicks !== 0;
  const signature = signatureAt(score, hand);
  const notes = places.flatMap((place, index): ProposedNote[] => {
    const { midis, length, moved } = byPlace.get(place) ?? { midis: [], length: 0, moved: 0 };
    const start = hand.at + place;
    if (start < 0) return [];
    const until = places[index + 1] ?? Infinity;
    const pitches = [...midis].sort((a, b) => a - b).map((midi) => spelled(midi, signature));
    const lasts = Math.min(length, until - place);
    const isCompound = beatTicks !== Time.unitTicks(meter.unit);
    const tuplet = !isCompound && (isThird(place) || isThird(lasts)) ? { tuplet: { actual: 3, normal: 2 } } : {}; // prettier-ignore
    return [{ at: start, length: lasts, pitches, ...tuplet, moved }];
  });
  return { notes, mean: quantised.moved.mean * beat, most: quantised.moved.most * beat };
}

/** The edits that write a proposal, with bars at the end where it needs them. */
export function editsOf({ notes }: Proposal, score: Score, hand: Hand): Edit[] {
  const last = notes.at(-1);
  const until = last ? last.at + last.length : 0;
  const end = Time.endOf(score);
  const bar = Time.barLength(Time.meterAt(score, Math.max(0, end - 1))) ?? 80640;
  const count = Math.ceil((until - end) / bar);
  const room: Edit[] = count > 0 ? [{ do: 'insert bars', bar: score.bars.length, count }] : [];
  return [
    ...room,
    ...notes.map(({ at, length, pitches, tuplet }): Edit => {
      const note = { do: 'note', voice: hand.voice, at, length, pitches } as const;
      return tuplet ? { ...note, tuplet } : note;
    }),
  ];
}

/** `30 ms later`, `12 ms earlier`, `not moved` */
export function sayMoved(ms: number): string {
  const whole = Math.round(Math.abs(ms));
  if (whole === 0) return 'not moved';
  return `moved ${whole} ms ${ms > 0 ? 'later' : 'earlier'}`;
}

/** `G4 in bar 3, beat 2` */
export function sayProposed(score: Score, { pitches, at }: ProposedNote): string {
  const names = pitches.map((pitch) => {
    const { letter, alter, octave } = Pitches.requirePitch(pitch);
    return `${letter}${alter > 0 ? '♯'.repeat(alter) : '♭'.repeat(-alter)}${octave}`;
  });
  return `${names.join(' and ')} in ${Editing.sayPlace(score, at)}`;
}
