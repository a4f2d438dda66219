import { keysToOffer, sayKey, sayTonic, type Key } from '../../pitch/key.ts';
import { handCosts } from '../../parts/in-key/hand-costs.ts';
import { amountOutside, offMiddle, worstOf } from '../../voice/fit-ends.ts';
import { inPasses, round } from '../../voice/fit-costs.ts';
import type { VoiceRow } from '../../voice/fit-row.ts';
import { table } from '../../voice/fit-table.ts';
import { rankOf } from '../../voice/placed.ts';
import { halfStepsUp, soundsLike } from '../key-ways.ts';
import { PRICES, type OrderCost, type SongToPlan, type OrderTeam } from './terms.ts';

/** One way to do a song, with what it costs by itself, wherever it stands. */
export interface WeighedWay {
  readonly key: Key;
  readonly lead: string | null;
  readonly costs: readonly OrderCost[];
}

export interface WeighedSong {
  readonly ways: readonly WeighedWay[];
  /** Where no lead is comfortable in any key: a sentence. */
  readonly relaxed: string | null;
}

const EDGE = rankOf('edge');

/**
 * Every key and lead in which a song can be done, each with what it costs the voices and hands. A lead for whom a part
 * of the tune lies outside is offered only where there is nobody else. Where passes are raised everybody counts as they are
 * in those that are worst for them. A pinned key or lead is the only one.
 */
export function weigh(song: SongToPlan, team: OrderTeam): WeighedSong {
  const { pinned = {} } = song;
  const keys = pinned.key ? [song.now.key] : keysAround(song);
  const singers = [...team.singers, ...(team.congregation ? [team.congregation] : [])];
  const { form } = song.arrangement;
  const rows =
    singers.length > 0 ? worstOf(table(song.score, singers, { keys, form: form ?? null })) : [];
  const leads = leadsOf(song, team);
  const rowOf = (key: Key, voice: string | null): VoiceRow | undefined =>
    rows.find((row) => row.voice === voice && row.key === key);
  const rank = (key: Key, lead: string | null): number => {
    const row = rowOf(key, lead);
    return row ? rankOf(row.verdict) : 0;
  };
  const all = keys.flatMap((key) => leads.map((lead) => ({ key, lead })));
  const comfortable = all.filter(({ key, lead }) => rank(key, lead) <= EDGE);
  const kept = comfortable.length > 0 ? comfortable : nearest(all, rowOf);
  const used = keys.filter((key) => kept.some((way) => way.key === key));
  const hands = handsIn(song, team, used);
  return {
    ways: kept.map(({ key, lead }): WeighedWay => {
      const own = rowOf(key, lead);
      const costs = [
        own ? leadCost(own, comfortable.length === 0) : null,
        ...team.singers
          .filter(({ id }) => id !== lead)
          .map(({ id }) => outsideCost(rowOf(key, id), 'singer', PRICES.singerOutside)),
        team.congregation
          ? outsideCost(rowOf(key, team.congregation.id), 'room', PRICES.roomOutside)
          : null,
        hands.get(key) ?? null,
        usualCost(song, key),
      ];
      return {
        key,
        lead,
        costs: costs.filter((cost) => cost !== null && cost.points > 0) as OrderCost[],
      };
    }),
    relaxed:
      comfortable.length === 0 && kept.length > 0
        ? `Nobody can lead “${song.title}” in comfort in any of the keys; whoever comes nearest is taken.`
        : null,
  };
}

/** The twelve usual keys; the one it stands in and the usual one keep their own spelling. */
function keysAround({ now, usual }: SongToPlan): Key[] {
  const own = [now.key, usual];
  return keysToOffer(now.key.mode).map((key) => own.find((each) => soundsLike(each, key)) ?? key);
}

/** Who may lead: whoever is pinned; nobody where nobody can be asked. */
function leadsOf({ pinned, now }: SongToPlan, { leads }: OrderTeam): (string | null)[] {
  if (pinned?.lead) return [now.lead];
  return leads.length > 0 ? leads.map(({ id }) => id) : [null];
}

/** Of ways that are comfortable for nobody, those with the least outside. */
function nearest<Way extends { key: Key; lead: string | null }>(
  ways: readonly Way[],
  rowOf: (key: Key, lead: string | null) => VoiceRow | undefined,
): Way[] {
  const amount = ({ key, lead }: Way): number => {
    const row = rowOf(key, lead);
    return row ? amountOutside(row) : 0;
  };
  const least = Math.min(...ways.map(amount));
  return ways.filter((way) => amount(way) <= least);
}

function leadCost(row: VoiceRow, isRelaxed: boolean): OrderCost {
  const off = offMiddle(row);
  const outside = Math.round(PRICES.leadOutside * amountOutside(row));
  const edge = rankOf(row.verdict) >= EDGE ? PRICES.leadAtEdge : 0;
  const beyond = isRelaxed ? PRICES.leadBeyond : 0;
  const middle = Math.round(PRICES.leadOffMiddle * Math.abs(off));
  const side = off < 0 ? 'below' : 'above';
  return {
    kind: 'lead',
    words:
      edge > 0
        ? row.reason
        : `the tune lies ${round(Math.abs(off))} half steps ${side} the middle of ${row.name}’s range${inPasses(row)}`,
    points: outside + edge + beyond + middle,
  };
}

function outsideCost(
  row: VoiceRow | undefined,
  kind: 'singer' | 'room',
  price: number,
): OrderCost | null {
  if (!row) return null;
  const points = Math.round(price * amountOutside(row));
  return points > 0 ? { kind, words: row.reason, points } : null;
}

/** How much harder a key is than the easiest that is left; keys that nobody can plan cost as much as the hardest. */
function handsIn(
  { score, arrangement }: SongToPlan,
  { player }: OrderTeam,
  keys: readonly Key[],
): Map<Key, OrderCost> {
  const costs = new Map<Key, OrderCost>();
  if (!player || score.untimed || keys.length < 2) return costs;
  const costIn = handCosts(score, arrangement, player);
  const plans = keys.map((key) => ({ key, plan: costIn(key) }));
  const totals = plans.flatMap(({ plan }) => (plan.ok ? [plan.total] : []));
  const least = Math.min(...totals);
  if (totals.length === 0 || least <= 0) return costs;
  for (const { key, plan } of plans) {
    const more = plan.ok ? plan.total / least - 1 : Infinity;
    const points = Math.min(PRICES.handsMost, Math.round(PRICES.handsTwice * more));
    const words = plan.ok
      ? `${player.name}’s hands in ${sayTonic(key)}: ${plan.phrase}`
      : `no part for ${player.name}’s hands in ${sayTonic(key)}`;
    costs.set(key, { kind: 'hands', words, points });
  }
  return costs;
}

function usualCost({ usual }: SongToPlan, key: Key): OrderCost | null {
  if (soundsLike(usual, key)) return null;
  const up = halfStepsUp(usual, key);
  const steps = Math.min(up, 12 - up);
  return {
    kind: 'usual',
    words: `the team usually has it in ${sayKey(usual)}`,
    points: PRICES.unusual + PRICES.unusualStep * steps,
  };
}
