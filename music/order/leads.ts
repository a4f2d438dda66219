import type { Role } from '../parts/part.ts';

/** Someone who serves this week. */
export interface Serving {
  readonly id: string;
  /** What they do this week. */
  readonly roles: readonly Role[];
}

/**
 * Who leads the singing of a song: the one its line names, else whoever usually leads it where they serve this week,
 * else the first lead voice of the week; null: nobody.
 */
export function leadOf(
  named: string | null,
  usual: string | null,
  serving: readonly Serving[],
): string | null {
  if (named !== null) return named;
  if (usual !== null && serving.some(({ id }) => id === usual)) return usual;
  return serving.find(({ roles }) => roles.includes('lead voice'))?.id ?? null;
}
