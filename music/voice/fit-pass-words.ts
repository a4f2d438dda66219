import { plusOctaves, transposePitch, type Interval } from '../pitch/interval.ts';
import { sayKey, sayNote, type Key } from '../pitch/key.ts';
import { sayUp } from '../parts/form/keys-of-form.ts';
import { namePasses } from '../parts/form/textures.ts';
import type { NamedPass } from '../score/form.ts';
import { sayBar } from './fit-demand-words.ts';
import { figuresOf, together, type Bounds, type Placed, type Stay } from './placed.ts';
import type { Singer } from './range.ts';
import { sayDistance } from './say-beats.ts';

/** One voice from a change of key to the next. */
export interface VoiceTold {
  readonly singer: Singer;
  readonly bounds: Bounds;
  /** From the written key. */
  readonly interval: Interval;
  /** Each section once. */
  readonly placed: readonly Placed[];
}

/** All that the sentence about a change of key is made of. */
export interface ChangeTold {
  /** The first pass in the new key. */
  readonly named: NamedPass;
  readonly isFirst: boolean;
  /** It is the only one, and another key follows. */
  readonly isOne: boolean;
  readonly key: Key;
  /** The arrangement’s own key again. */
  readonly isBack: boolean;
  readonly interval: Interval;
}

/** `From verse 4, up a whole step, in A major` */
export function sayChange({ named, isFirst, isOne, key, isBack, interval }: ChangeTold): string {
  const name = namePasses([named]).toLowerCase();
  const pass = named.section.kind === 'verse' ? name : `the ${name}`;
  const opening = isOne ? 'In' : isFirst ? 'Beginning with' : 'From';
  const way = isBack ? 'back' : `${sayUp(interval.semitones)},`;
  return `${opening} ${pass}, ${way} in ${sayKey(key)}`;
}

/**
 * `the top is D5 for Ada, in bar 12, a half step over what sits easily (4 % of the singing)`
 * @param isUp whether the music has gone up: then the top is told where nothing lies outside, else the bottom.
 */
export function sayVoice({ singer, bounds, interval, placed }: VoiceTold, isUp: boolean): string {
  const figures = together(placed.map((each) => figuresOf(each, bounds)));
  const over = figures.high - bounds.high;
  const under = bounds.low - figures.low;
  const [top, bottom] = [figures.high, figures.low].map((midi) => at(midi, placed, interval));
  const sides = [
    over > 0 ? `the top is ${top?.name ?? ''} for ${singer.name}, in ${top?.bar ?? ''}, ${sayDistance(over)} over what sits easily` : '', // prettier-ignore
    under > 0 ? `the lowest note is ${bottom?.name ?? ''} for ${singer.name}, in ${bottom?.bar ?? ''}, ${sayDistance(under)} under what sits easily` : '', // prettier-ignore
  ].filter((words) => words !== '');
  if (sides.length > 0) {
    const share = (figures.above + figures.below) / figures.total;
    return `${sides.join(', and ')} (${Math.max(1, Math.round(100 * share))}\u00a0% of the singing)`;
  }
  const spare = isUp ? -over : -under;
  const note = isUp ? `the top is ${top?.name ?? ''}` : `the lowest note is ${bottom?.name ?? ''}`;
  return `${note} for ${singer.name}, with ${sayDistance(spare)} to spare`;
}

/** Whether a note lies outside what sits easily. */
export function isOutside({ bounds, placed }: VoiceTold): boolean {
  const { above, below } = together(placed.map((each) => figuresOf(each, bounds)));
  return above + below > 0;
}

/** The sounding note as the new key spells it, and the bar where it stays longest. */
function at(
  midi: number,
  placed: readonly Placed[],
  interval: Interval,
): { name: string; bar: string } {
  const found = placed
    .flatMap((each) => each.section.stays.map((stay) => ({ each, stay })))
    .filter(({ each, stay }) => stay.midi + each.by === midi)
    .reduce<{ each: Placed; stay: Stay } | null>(
      (best, one) => (best && best.stay.longest.felt >= one.stay.longest.felt ? best : one),
      null,
    );
  if (!found) throw new RangeError(`no note sounds at ${midi}`);
  const by = plusOctaves(interval, found.each.octave === 'octave below' ? -1 : 0);
  return {
    name: sayNote(transposePitch(found.stay.pitch, by)),
    bar: sayBar(found.stay.longest.bar),
  };
}
