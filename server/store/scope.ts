import type { GuardedConnection } from './guarded.ts';

/** Time and chance come from outside. */
export interface Surroundings {
  readonly now: () => Date;
  readonly newId: () => string;
}

/** What a store is made for: no store can be had without a team. */
export interface Scope extends Surroundings {
  /** It refuses every question that does not name the team. */
  readonly db: GuardedConnection;
  readonly teamId: string;
}

/** Which rows a question is about: those in use, or those that were deleted and can be restored. */
export type Presence = 'present' | 'deleted';

export function presence(which: Presence) {
  return which === 'present' ? null : { not: null };
}

/** What was written to a column as JSON and only there; its shape is known. */
export function fromJson<T>(text: string): T {
  return JSON.parse(text) as T;
}

export function fromJsonOrNull<T>(text: string | null): T | null {
  return text === null ? null : fromJson<T>(text);
}
