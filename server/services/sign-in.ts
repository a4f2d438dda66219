import type { TeamRooms, TeamStore } from '../store/store.ts';
import { isPassphrase } from './passphrase.ts';
import { Refusal } from './refusal.ts';
import { hashOf, newSecret } from './secrets.ts';

/** The same words for whatever is wrong. */
export function wrongPassphrase(): Refusal {
  return new Refusal(
    'wrong-passphrase',
    'That is not the passphrase. Capital letters and spaces count. Nothing was changed.',
  );
}

export function changedMeanwhile(): Refusal {
  return new Refusal(
    'wrong-passphrase',
    'The passphrase was changed in this moment. Nothing was changed; say the new one.',
  );
}

/** Begins a session and gives its secret, which is not kept. */
export async function beginSession(rooms: TeamRooms, days: number): Promise<string> {
  const secret = newSecret();
  await rooms.sessions.begin(hashOf(secret), days);
  return secret;
}

/** The secret of a new session; null where no passphrase is set and none is needed. */
export async function signIn(
  store: TeamStore,
  passphrase: string,
  days: number,
): Promise<string | null> {
  const hashed = await store.sessions.passphrase();
  if (hashed === null) return null;
  // Slow on purpose, so outside the transaction that everybody waits for.
  if (!(await isPassphrase(hashed, passphrase))) throw wrongPassphrase();
  return store.together(async (rooms) => {
    if ((await rooms.sessions.passphrase()) !== hashed) throw changedMeanwhile();
    return beginSession(rooms, days);
  });
}

export async function signOut(rooms: TeamRooms, secret: string | null): Promise<void> {
  if (secret !== null) await rooms.sessions.end(hashOf(secret));
}
