import type { PlayerCost } from '../hand/player-cost.ts';
import { sayTonic, type Key } from '../pitch/key.ts';
import {
  costsOf,
  dominates,
  round,
  sameDimension,
  withoutName,
  type Cost,
  type HandCost,
} from './fit-costs.ts';
import { amountOutside, offMiddle, worstOf } from './fit-ends.ts';
import type { KeyFitTable, VoiceRow } from './fit-row.ts';
import { suggest, type Suggestion } from './fit-suggestion.ts';
import { rankOf } from './placed.ts';

export type { Cost, HandCost } from './fit-costs.ts';
export { SUGGESTION_ORDER, type Suggestion } from './fit-suggestion.ts';

export interface FrontOptions {
  /** Id of the voice that leads, or of those that share it. */
  readonly lead: string | readonly string[];
  /** Id of the voice that stands for the congregation; missing: `congregation`, where the table has it. */
  readonly congregation?: string;
  /** What the key costs the hands; null where nobody can say. */
  readonly handCost?: (key: Key) => HandCost | null;
  /** What the key costs each player who counts, those first whose ease decides first; who cannot be weighed is left out. */
  readonly players?: (key: Key) => readonly PlayerCost[];
  /** The key that the song is usually done in, where another one is looked for; missing: it counts for nothing. */
  readonly usual?: Key | null;
}

/** A key that stays, with everything it costs. */
export interface FrontRow {
  readonly key: Key;
  /** One row for each voice of the table, in its order; where passes are raised those in which it has it worst. */
  readonly voices: readonly VoiceRow[];
  readonly hands: HandCost | null;
  readonly players: readonly PlayerCost[];
  readonly costs: readonly Cost[];
  /** Another key is at least as good in everything; null: this one is on the front. */
  readonly dominated: Dominated | null;
}

export interface Dominated {
  readonly by: Key;
  /** Where the other key is better, the strongest first, three at most: `one flat instead of six sharps`. */
  readonly better: readonly string[];
  /** What this one still has, within what counts as equal: `nearer the middle of Ruth’s range …`. */
  readonly despite: readonly string[];
}

export interface DroppedKey {
  readonly key: Key;
  /** Why, for each lead that is not comfortable: the row's own sentence. */
  readonly because: readonly string[];
}

export interface KeyFitFront {
  /** In the order of the table's keys. */
  readonly rows: readonly FrontRow[];
  readonly dropped: readonly DroppedKey[];
  /** Where no key leaves the lead comfortable: one sentence on what was kept instead. */
  readonly relaxed: string | null;
  /** null where there is nothing to choose from. */
  readonly suggestion: Suggestion | null;
}

/**
 * The keys that leave the lead comfortable (nothing outside the comfortable range), each with what it costs every
 * voice, every player, the reader and the distance from the usual and the written key. Nothing is added up to one score: a key is marked as
 * dominated only where another one is at least as good in every dimension, and the suggestion says each step of its
 * tie-break. Two keys with the same verdict and the same share outside count as equal for a voice, two with
 * the same figure for a player; how near the middle they lie and what is finer is shown, and decides within the
 * suggestion only. Where passes of the form are raised each voice counts as it is in those that are worst for it.
 */
export function front(table: KeyFitTable, options: FrontOptions): KeyFitFront {
  const leads = typeof options.lead === 'string' ? [options.lead] : options.lead;
  for (const id of leads) {
    if (!table.voices.some((voice) => voice.id === id)) throw new RangeError(`no voice ${id}`);
  }
  const all = worstOf(table);
  const byKey = table.keys
    .map((key) => ({ key, rows: all.filter((row) => row.key === key) }))
    .filter(({ rows }) => rows.length > 0);
  const lead = (rows: readonly VoiceRow[]): VoiceRow[] =>
    rows.filter(({ voice }) => leads.includes(voice));
  const { kept, relaxed } = keep(table, byKey, lead);
  const rows = kept.map(({ key, rows: voices }): FrontRow => {
    const hands = options.handCost?.(key) ?? null;
    const players = options.players?.(key) ?? [];
    const costs = costsOf(table, voices, { hands, players, usual: options.usual ?? null });
    return { key, voices, hands, players, costs, dominated: null };
  });
  const congregation = options.congregation ?? 'congregation';
  const marked = rows.map((row) => ({
    ...row,
    dominated: dominatedOf(row, rows, leads, congregation),
  }));
  return {
    rows: marked,
    dropped: byKey
      .filter(({ key }) => !kept.some((each) => each.key === key))
      .map(({ key, rows: voices }) => ({
        key,
        because: lead(voices)
          .filter(({ verdict }) => rankOf(verdict) > 1)
          .map(({ reason }) => reason),
      })),
    relaxed,
    suggestion: suggest(
      marked.filter(({ dominated }) => dominated === null),
      leads,
      congregation,
    ),
  };
}

interface KeyRows {
  readonly key: Key;
  readonly rows: readonly VoiceRow[];
}

/**
 * The keys in which every lead is comfortable; where there are none, those with every lead at the edge at most; where
 * there are none of these either, those with the least outside for the lead who has it worst.
 */
function keep(
  table: KeyFitTable,
  byKey: readonly KeyRows[],
  lead: (rows: readonly VoiceRow[]) => VoiceRow[],
): { kept: readonly KeyRows[]; relaxed: string | null } {
  const worst = ({ rows }: KeyRows): VoiceRow | undefined =>
    [...lead(rows)].sort((a, b) => amountOutside(b) - amountOutside(a))[0];
  const rank = ({ rows }: KeyRows): number =>
    Math.max(...lead(rows).map(({ verdict }) => rankOf(verdict)));
  const kept = byKey.filter((each) => rank(each) <= rankOf('works'));
  if (kept.length > 0 || byKey.length === 0) return { kept, relaxed: null };
  const share = (each: KeyRows): number => {
    const row = worst(each);
    return row ? amountOutside(row) : 0;
  };
  const least = Math.min(...byKey.map(share));
  const atEdge = byKey.filter((each) => rank(each) === rankOf('edge'));
  const best = atEdge.length > 0 ? atEdge : byKey.filter((each) => share(each) === least);
  const example = best.reduce((a, b) => (share(b) < share(a) ? b : a));
  const [names, stay] = [
    best.map(({ key }) => sayTonic(key)).join(', '),
    best.length === 1 ? 'stays' : 'stay',
  ];
  return {
    kept: best,
    relaxed:
      `None of the ${table.keys.length} keys keeps the whole tune in the comfortable range; ` +
      `${names} ${stay}, with the least outside. In ${sayTonic(example.key)}: ${worst(example)?.reason ?? ''}`,
  };
}

/** Of what another key does better, more is not read (our choice). */
const MOST_GAINS = 3;

function dominatedOf(
  row: FrontRow,
  rows: readonly FrontRow[],
  leads: readonly string[],
  congregation: string,
): Dominated | null {
  const over = rows.filter((each) => dominates(each.costs, row.costs));
  const name = suggest(over, leads, congregation)?.key;
  const by = over.find(({ key }) => key === name);
  if (!by) return null;
  const gains = by.costs.flatMap((cost) => {
    const own = sameDimension(row.costs, cost);
    if (!own || cost.value >= own.value) return [];
    const words = `${cost.words} instead of ${withoutName(own)}`;
    return [{ dimension: cost.dimension, gain: own.value - cost.value, words }];
  });
  // Voices before hands before what is read, as they are listed; of one kind the larger gain.
  const better = gains
    .map(({ dimension }) => dimension)
    .filter((dimension, i, all) => all.indexOf(dimension) === i)
    .flatMap((dimension) =>
      gains.filter((each) => each.dimension === dimension).sort((a, b) => b.gain - a.gain),
    )
    .slice(0, MOST_GAINS)
    .map(({ words }) => words);
  const despite = row.voices.flatMap((own, i) => {
    const other = by.voices[i];
    const [here, there] = [Math.abs(offMiddle(own)), other ? Math.abs(offMiddle(other)) : 0];
    return here < there
      ? [
          `nearer the middle of ${possessive(own.name)} range (${round(here)} half steps off instead of ${round(there)})`,
        ]
      : [];
  });
  return { by: by.key, better, despite };
}

function possessive(name: string): string {
  return `${name}’s`;
}
