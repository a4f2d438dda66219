import type { Key } from '../pitch/key.ts';
import type { NoteName } from '../pitch/pitch.ts';
import { choices, easeOf, openShapes, say, signed, type PlayedKey } from './played-key.ts';

/** Who reads: how far they are, on what, and what it can do. */
export interface EasierFor {
  readonly level: 'beginner' | 'intermediate' | 'advanced';
  readonly role: string;
  readonly instruments?: { readonly transposeButton?: boolean; readonly capo?: 0 | 5 | 7 };
}

/** At the keys: so many sharps or flats are read before another key is offered (ours); an advanced player reads every key. */
const READ = { beginner: 1, intermediate: 3, advanced: 7 } as const;
/** Open shapes, the easiest first (common practice: most chords of these keys are open shapes too). */
const EASIEST: readonly NoteName[] = ['G', 'C', 'D', 'A', 'E'];
/** Frets that a capo is offered at before a nearer one with harder shapes (ours). */
const NEAR = 4;

/**
 * The key that a song is easier to read in, worth an offer where nobody chose; null: as it sounds is well enough. At the
 * keys the one of fewest sharps or flats by the smallest setting of the transpose button, for who is not at home in so
 * many; on the guitar shapes on an open tonic, where the sounding one is none.
 */
export function easierKey(
  sounding: Key,
  { level, role, instruments = {} }: EasierFor,
): PlayedKey | null {
  const offered = choices(sounding, instruments, role);
  const [best] = offered;
  if (!best) return null;
  if (role === 'keys') {
    const [asks, less] = [easeOf(sounding).accidentals, easeOf(best.plays).accidentals];
    return asks > READ[level] && less < asks ? best : null;
  }
  const shapes = openShapes(sounding.mode);
  if (shapes.includes(sounding.tonic)) return null;
  const near = EASIEST.filter((tonic) => shapes.includes(tonic)).flatMap((tonic) =>
    offered.filter(({ plays, amount }) => plays.tonic === tonic && amount <= NEAR),
  );
  return near[0] ?? best;
}

/** `easier in C: set the keyboard to +3`; `easier with capo 3: shapes of C`. */
export function sayEasier({ by, plays, amount }: PlayedKey): string {
  return by === 'capo'
    ? `easier with capo ${amount}: shapes of ${say(plays)}`
    : `easier in ${say(plays)}: set the keyboard to ${signed(amount)}`;
}

/** On paper the offer cannot be taken, and its page is still in the key that sounds. */
export function sayEasierOnPaper(offer: PlayedKey): string {
  return `${sayEasier(offer)}, and print the page that way; this one is in ${say(offer.sounds)}`;
}
