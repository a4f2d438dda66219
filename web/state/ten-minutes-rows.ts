import { Keys, type Key, type LinePages, type OrderCost, type StandPlan } from '#music';
import type { ServicePage } from './service.svelte.ts';

/** One song of the plan beside what stands in the order now. */
export interface StandRow {
  readonly id: string;
  readonly title: string;
  readonly was: { readonly key: Key | null; readonly lead: string | null };
  readonly key: Key;
  readonly lead: string | null;
  /** Against the order as it stands now: nothing any more once it is taken. */
  readonly changes: { readonly key: boolean; readonly lead: boolean };
  /** What changes on the stands, in words; null: not worked out yet. */
  readonly words: readonly string[] | null;
  readonly costs: readonly OrderCost[];
}

type Standing = Pick<ServicePage, 'items' | 'titleOf' | 'keyOf' | 'leadOf'>;

/** The songs of a plan, in their order; what is gone from the order meanwhile is left out. */
export function rowsOf(
  { lines }: StandPlan,
  pages: readonly LinePages[],
  standing: Standing,
): StandRow[] {
  return lines.flatMap(({ item: id, key, lead, costs }): StandRow[] => {
    const item = standing.items.find((each) => each.id === id);
    if (!item) return [];
    const was = { key: standing.keyOf(item), lead: standing.leadOf(item) };
    const own = pages.find((each) => each.item === id);
    const said = own?.pages
      // The row says itself what the order says, and who leads.
      .filter(({ kind }) => kind !== 'order' && (kind !== 'words' || was.lead === lead))
      .map(({ words }) => words)
      .filter((words) => words !== '');
    return [
      {
        id,
        title: standing.titleOf(item),
        was,
        key,
        lead,
        changes: {
          key: was.key === null || !Keys.sameKey(was.key, key),
          lead: was.lead !== lead,
        },
        words: said ? [...new Set(said)] : null,
        costs,
      },
    ];
  });
}
