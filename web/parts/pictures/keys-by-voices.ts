import { scaleLinear } from 'd3-scale';
import { KeyFit, Keys, type Key, type KeyFitTable, type Verdict, type VoiceRow } from '#music';

/** A key and a voice. */
export interface KeyVoiceCell {
  readonly voice: string;
  readonly verdict: Verdict;
  /** `sits easily`, for who does not see the sign. */
  readonly words: string;
  /** `12 %` of the singing outside; empty: nothing is, or nobody knows how long it is. */
  readonly outside: string;
  /** 0–1 of the width of a cell: how much lies outside. */
  readonly bar: number;
  /** Where what is not easy lies. */
  readonly side: 'high' | 'low' | 'both';
  /** It is sung an octave below, wholly or in part. */
  readonly below: boolean;
}

export interface KeyRowDrawn {
  readonly key: Key;
  readonly name: string;
  /** `as written`, `usual`; empty: neither. */
  readonly is: string;
  readonly isChosen: boolean;
  readonly cells: readonly KeyVoiceCell[];
}

/** Which keys are known by a name of their own. */
export interface KeysKnown {
  readonly chosen: Key;
  /** What the team usually does it in; null: it is not known here, or is the chosen one. */
  readonly usual: Key | null;
}

/** Keys down, voices across, from C up; where passes are raised each voice in those that are worst for it. */
export function drawGrid(table: KeyFitTable, { chosen, usual }: KeysKnown): KeyRowDrawn[] {
  const rows = KeyFit.worstOf(table);
  const most = Math.max(0.25, ...rows.map(shareOf));
  const bar = scaleLinear([0, most], [0, 1]);
  return table.keys.map((key) => {
    const is = [
      ...(Keys.sameKey(key, table.written) ? ['as written'] : []),
      ...(usual && Keys.sameKey(key, usual) ? ['usual'] : []),
    ];
    const own = rows.filter((row) => Keys.sameKey(row.key, key));
    return {
      key,
      name: Keys.sayTonic(key),
      is: is.join(', '),
      isChosen: Keys.sameKey(key, chosen),
      cells: own.map((row) => ({ ...cellOf(row), bar: bar(shareOf(row)) })),
    };
  });
}

const shareOf = (row: VoiceRow): number => (row.known === 'melody' ? row.shareOutside : 0);

function cellOf(row: VoiceRow): Omit<KeyVoiceCell, 'bar'> {
  const share = shareOf(row);
  const outside = share > 0 ? `${Math.max(1, Math.round(100 * share))}\u00a0%` : '';
  return {
    voice: row.voice,
    verdict: row.verdict,
    words: KeyFit.sayVerdict(row.verdict),
    outside,
    side: sideOf(row),
    below: row.octave !== 'as written',
  };
}

function sideOf(row: VoiceRow): KeyVoiceCell['side'] {
  if (row.lowerReserve < 0 && row.upperReserve < 0) return 'both';
  return row.shift >= 0 ? 'high' : 'low';
}
