import type { Role } from '../parts/part.ts';

/** Someone who serves this week. */
export interface Serving {
  readonly id: string;
  /** What they do this week. */
  readonly roles: readonly Role[];
}

/** Someone who was named to lead and does not serve this week. */
export interface AwayLead {
  readonly id: string;
  /** What they were named for. */
  readonly leads: 'song' | 'pass';
}

/**
 * Who leads the singing of a song: the one its line names, else whoever usually leads it, both where they serve this
 * week, else the first lead voice of the week; null: nobody.
 */
export function leadOf(
  named: string | null,
  usual: string | null,
  serving: readonly Serving[],
): string | null {
  for (const each of [named, usual])
    if (each !== null && serving.some(({ id }) => id === each)) return each;
  return serving.find(({ roles }) => roles.includes('lead voice'))?.id ?? null;
}

/**
 * Whose place another takes: the lead that the line of a song names, then the leads of its passes, each once, where they
 * do not serve this week. What is only usual is no promise: of it nothing is said.
 * @param passes the lead that each pass names; null: none
 */
export function awayLeads(
  named: string | null,
  passes: readonly (string | null | undefined)[],
  serving: readonly Serving[],
): AwayLead[] {
  const isAway = (id: string | null | undefined): id is string =>
    typeof id === 'string' && !serving.some((each) => each.id === id);
  const ofPasses = [...new Set(passes)].filter(isAway).filter((id) => id !== named);
  return [
    ...(isAway(named) ? [{ id: named, leads: 'song' as const }] : []),
    ...ofPasses.map((id) => ({ id, leads: 'pass' as const })),
  ];
}
