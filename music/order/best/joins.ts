import { sayTonic, type Key } from '../../pitch/key.ts';
import { counted } from '../../score/number-words.ts';
import { commonTriads, soundsLike } from '../key-ways.ts';
import { PRICES, type OrderCost } from './terms.ts';

/**
 * What it costs to go from one song's key to the next one's.
 * @param apart something else stands between the songs
 */
export function joinCost(from: Key, to: Key, apart: boolean): OrderCost {
  const shared = commonTriads(from, to);
  const full = soundsLike(from, to) ? 0 : priceOf(shared);
  const points = apart ? Math.round(PRICES.joinApart * full) : full;
  const ways = `${sayTonic(from)} to ${sayTonic(to)}`;
  return {
    kind: 'join',
    words:
      shared === 0
        ? `${ways}: no chord is in both keys`
        : `${ways}: ${counted(shared, 'chord is', 'chords are')} in both keys`,
    points,
  };
}

function priceOf(shared: number): number {
  if (shared >= 7) return PRICES.joinRelative;
  if (shared >= 4) return PRICES.joinNear;
  return shared > 0 ? PRICES.joinSome : PRICES.joinNone;
}
