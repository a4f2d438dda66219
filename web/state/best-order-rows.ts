import { Keys, NumberWords, type Key, type OrderCost, type ServicePlan } from '#music';
import type { LinePins } from '#server/contract/best-order.ts';
import type { ServiceItem } from '#server/contract/services.ts';

/** What is known of the order as it stands. */
export interface Standing {
  readonly items: readonly ServiceItem[];
  titleOf(item: ServiceItem): string;
  keyOf(item: ServiceItem): Key | null;
  leadOf(item: ServiceItem): string | null;
  nameOf(member: string | null): string | null;
}

/** A song of a plan beside what stands now. */
export interface PlanRow {
  readonly id: string;
  readonly title: string;
  /** Lines of the order, from 1. */
  readonly place: number;
  readonly was: { readonly place: number; readonly key: Key | null; readonly lead: string | null };
  readonly key: Key;
  /** Id of the member; null: nobody. */
  readonly lead: string | null;
  readonly changes: { readonly place: boolean; readonly key: boolean; readonly lead: boolean };
  readonly costs: readonly OrderCost[];
  readonly points: number;
}

const sameKey = (one: Key | null, other: Key | null): boolean =>
  one === other || (one !== null && other !== null && Keys.sameKey(one, other));

/** The songs of a plan in its order; those that are gone from the order meanwhile are left out. */
export function rowsOf({ order, lines }: ServicePlan, standing: Standing): PlanRow[] {
  return lines.flatMap(({ item: id, key, lead, costs }): PlanRow[] => {
    const at = standing.items.findIndex((item) => item.id === id);
    const item = standing.items[at];
    if (!item) return [];
    const was = { place: at + 1, key: standing.keyOf(item), lead: standing.leadOf(item) };
    const place = order.indexOf(id) + 1;
    return [
      {
        id,
        title: standing.titleOf(item),
        place,
        was,
        key,
        lead,
        changes: {
          place: place !== was.place,
          key: !sameKey(key, was.key),
          lead: lead !== was.lead,
        },
        costs,
        points: costs.reduce((sum, { points }) => sum + points, 0),
      },
    ];
  });
}

const KINDS: Readonly<Record<OrderCost['kind'], string>> = {
  lead: 'the lead',
  singer: 'singers',
  room: 'the congregation',
  hands: 'hands',
  usual: 'not the usual key',
  join: 'the way from the song before',
  shape: 'the shape',
  stand: 'changes on the stands',
};

/** What a line costs in a few words, the dearest first: `singers 24, hands 3`. */
export function sayKinds(costs: readonly OrderCost[]): string {
  const sums = new Map<OrderCost['kind'], number>();
  for (const { kind, points } of costs) sums.set(kind, (sums.get(kind) ?? 0) + points);
  return [...sums]
    .sort(([, one], [, other]) => other - one)
    .map(([kind, points]) => `${KINDS[kind]} ${points}`)
    .join(', ');
}

export const changesIn = ({ changes }: PlanRow): boolean =>
  changes.place || changes.key || changes.lead;

/** The lines of an order as a plan has them; null: the plan was made for other lines. */
export function itemsOf({ order, lines }: ServicePlan, standing: Standing): ServiceItem[] | null {
  const { items } = standing;
  if (order.length !== items.length) return null;
  const planned = order.flatMap((id) => items.find((item) => item.id === id) ?? []);
  if (planned.length !== items.length) return null;
  return planned.map((item) => {
    const line = lines.find((each) => each.item === item.id);
    if (!line) return item;
    const isSame = sameKey(line.key, standing.keyOf(item)) && line.lead === standing.leadOf(item);
    return isSame ? item : { ...item, key: line.key, lead: line.lead };
  });
}

/** Where another plan goes another way: a sentence for each line. */
export function sayDifferences(
  best: readonly PlanRow[],
  other: readonly PlanRow[],
  nameOf: Standing['nameOf'],
): string[] {
  const who = (id: string | null): string => nameOf(id) ?? 'nobody';
  return other.flatMap((row) => {
    const first = best.find(({ id }) => id === row.id);
    if (!first) return [];
    const parts = [
      row.place === first.place ? '' : `line ${row.place} in place of ${first.place}`,
      sameKey(row.key, first.key)
        ? ''
        : `in ${Keys.sayKey(row.key)} and not in ${Keys.sayTonic(first.key)}`,
      row.lead === first.lead ? '' : `${who(row.lead)} leads, not ${who(first.lead)}`,
    ].filter((part) => part !== '');
    return parts.length === 0 ? [] : [`${row.title}: ${parts.join('; ')}.`];
  });
}

/** `1 point more`, `as many points`. */
export function sayMore(points: number): string {
  if (points === 0) return 'as many points';
  return `${NumberWords.counted(points, 'point', 'points')} more`;
}

/** What stands otherwise than a plan that was taken has it: what somebody changed since. */
export function pinsOfChanged(
  plan: ServicePlan,
  standing: Standing,
): Readonly<Record<string, LinePins>> {
  const changed = rowsOf(plan, standing).filter(changesIn);
  return Object.fromEntries(changed.map(({ id, changes }) => [id, { ...changes }]));
}
