import type { TeamStore } from '../store/store.ts';

/** Everything the team has now is its demo, which it may keep or clear. */
export async function beginDemo(store: TeamStore): Promise<void> {
  await store.together((rooms) => rooms.demo.begin());
}
