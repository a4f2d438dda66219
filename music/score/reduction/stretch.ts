import { transposeNote } from '../../pitch/interval.ts';
import type { NoteName } from '../../pitch/pitch.ts';
import type { Ticks } from '../score.ts';
import type { Candidate } from './candidates.ts';
import { PRICES, outsidePrice } from './prices.ts';
import type { Strength } from './pulse.ts';
import type { LineNote, Texture } from './texture.ts';

/** What sounds between two possible changes of chord, summed by note name; no chord in mind yet. */
export interface Stretch {
  readonly at: Ticks;
  readonly end: Ticks;
  readonly beat: Ticks;
  readonly strength: Strength;
  /** Points that the notes of a name cost while they lie outside the chord. */
  readonly outside: ReadonlyMap<NoteName, number>;
  readonly outsideOfAll: number;
  /** Ticks that a name sounds; that it is the bass; that anything sounds; that nothing does. */
  readonly sounding: ReadonlyMap<NoteName, Ticks>;
  readonly bass: ReadonlyMap<NoteName, Ticks>;
  readonly sound: Ticks;
  readonly silence: Ticks;
  /** What sounds at once, slice by slice. */
  readonly together: readonly ReadonlySet<NoteName>[];
  /** It lasts a beat or longer, and its notes are a triad, whole and alone. */
  readonly triad: boolean;
}

/** What a stretch costs under a chord, and which of the chord's tones sound in it (bit n: tone n). */
export interface StretchPrice {
  readonly outside: number;
  readonly bass: number;
  readonly rootAbsent: number;
  readonly seventhAbsent: number;
  readonly triadIgnored: number;
  readonly silence: number;
  readonly present: number;
  /** The tones that make the chord what it is sound at once. */
  readonly heard: boolean;
}

/** [third, fifth] in semitones over the root: major, minor, diminished (common practice). */
const TRIADS = [
  [4, 7],
  [3, 7],
  [3, 6],
] as const;

function isTriad(names: readonly NoteName[]): boolean {
  if (names.length !== 3) return false;
  return names.some((root) =>
    TRIADS.some(
      ([third, fifth]) =>
        names.includes(transposeNote(root, { steps: 2, semitones: third })) &&
        names.includes(transposeNote(root, { steps: 4, semitones: fifth })),
    ),
  );
}

function add(sums: Map<NoteName, number>, name: NoteName, amount: number): void {
  sums.set(name, (sums.get(name) ?? 0) + amount);
}

export function stretchesOf(texture: Texture): Stretch[] {
  const { changes, pulse } = texture;
  let place = 0;
  return changes.slice(0, -1).map((at, index): Stretch => {
    const end = changes[index + 1] as Ticks;
    const felt = pulse.beatAt(at);
    // A felt beat of three counted notes weighs one and a half.
    const beat = pulse.isCompoundAt(at) ? (felt * 2) / 3 : felt;
    const together: ReadonlySet<NoteName>[] = [];
    const sums = { outside: new Map(), sounding: new Map(), bass: new Map() };
    let [outsideOfAll, sound, silence] = [0, 0, 0];
    for (; place < texture.slices.length; place += 1) {
      const slice = texture.slices[place];
      if (!slice || slice.at >= end) break;
      const length = slice.end - slice.at;
      const names = new Set<NoteName>();
      if (slice.sounding.length === 0) silence += length;
      else sound += length;
      for (const note of slice.sounding) {
        const each = texture.notes[note] as LineNote;
        // Whole points for each note and slice, so that every sum is exact in any order.
        const points = Math.round(
          outsidePrice(each, {
            beats: length / beat,
            strength: pulse.strengthAt(Math.max(each.at, at)),
            held: each.at < at,
            stays: each.end > end,
            bass: note === slice.bass,
          }),
        );
        outsideOfAll += points;
        add(sums.outside, each.name, points);
        if (note === slice.bass) add(sums.bass, each.name, length);
        names.add(each.name);
      }
      together.push(names);
      for (const name of names) add(sums.sounding, name, length);
    }
    const strength = pulse.strengthAt(at);
    const triad = end - at >= felt && silence === 0 && isTriad([...sums.sounding.keys()]);
    return { at, end, beat, strength, ...sums, outsideOfAll, sound, silence, together, triad };
  });
}

export function priceUnder(stretch: Stretch, { tones, required }: Candidate): StretchPrice {
  let [outside, bass, present] = [stretch.outsideOfAll, 0, 0];
  tones.forEach((tone, place) => {
    if (!stretch.sounding.has(tone)) return;
    present |= 1 << place;
    outside -= stretch.outside.get(tone) ?? 0;
    bass += bassPrice(place) * (stretch.bass.get(tone) ?? 0);
  });
  const root = tones[0];
  const without = root === undefined ? 0 : stretch.sound - (stretch.sounding.get(root) ?? 0);
  const seventh = tones[3];
  const withoutSeventh =
    seventh === undefined ? 0 : stretch.sound - (stretch.sounding.get(seventh) ?? 0);
  const silence = root === undefined ? 0 : stretch.silence;
  return {
    outside,
    bass: Math.round(bass / stretch.beat),
    rootAbsent: Math.round((PRICES.rootAbsent * without) / stretch.beat),
    seventhAbsent: Math.round((PRICES.seventhAbsent * withoutSeventh) / stretch.beat),
    triadIgnored: stretch.triad && outside > 0 ? PRICES.triadIgnored : 0,
    silence: Math.round((PRICES.silence * silence) / stretch.beat),
    present,
    heard: stretch.together.some((names) => required.every((tone) => names.has(tones[tone] ?? ''))),
  };
}

function bassPrice(tone: number): number {
  return [0, PRICES.thirdInBass, PRICES.fifthInBass, PRICES.seventhInBass][tone] ?? 0;
}

/** Everything that a stretch costs under a chord. */
export function ownPoints(price: StretchPrice): number {
  const { outside, bass, rootAbsent, seventhAbsent, triadIgnored, silence } = price;
  return outside + bass + rootAbsent + seventhAbsent + triadIgnored + silence;
}
