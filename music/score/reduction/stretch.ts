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
}

/** What a stretch costs under a chord, and which of the chord's tones sound in it (bit n: tone n). */
export interface StretchPrice {
  readonly outside: number;
  readonly bass: number;
  readonly rootAbsent: number;
  readonly silence: number;
  readonly present: number;
}

function add(sums: Map<NoteName, number>, name: NoteName, amount: number): void {
  sums.set(name, (sums.get(name) ?? 0) + amount);
}

export function stretchesOf(texture: Texture): Stretch[] {
  const { changes, pulse } = texture;
  let place = 0;
  return changes.slice(0, -1).map((at, index): Stretch => {
    const end = changes[index + 1] as Ticks;
    const beat = pulse.beatAt(at);
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
            bass: note === slice.bass,
          }),
        );
        outsideOfAll += points;
        add(sums.outside, each.name, points);
        if (note === slice.bass) add(sums.bass, each.name, length);
        names.add(each.name);
      }
      for (const name of names) add(sums.sounding, name, length);
    }
    return { at, end, beat, strength: pulse.strengthAt(at), ...sums, outsideOfAll, sound, silence };
  });
}

export function priceUnder(stretch: Stretch, { tones }: Candidate): StretchPrice {
  let [outside, bass, present] = [stretch.outsideOfAll, 0, 0];
  tones.forEach((tone, place) => {
    if (!stretch.sounding.has(tone)) return;
    present |= 1 << place;
    outside -= stretch.outside.get(tone) ?? 0;
    bass += bassPrice(place) * (stretch.bass.get(tone) ?? 0);
  });
  const root = tones[0];
  const without = root === undefined ? 0 : stretch.sound - (stretch.sounding.get(root) ?? 0);
  const silence = root === undefined ? 0 : stretch.silence;
  return {
    outside,
    bass: Math.round(bass / stretch.beat),
    rootAbsent: Math.round((PRICES.rootAbsent * without) / stretch.beat),
    silence: Math.round((PRICES.silence * silence) / stretch.beat),
    present,
  };
}

function bassPrice(tone: number): number {
  return [0, PRICES.thirdInBass, PRICES.fifthInBass, PRICES.seventhInBass][tone] ?? 0;
}
