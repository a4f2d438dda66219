import type { PassphraseChange } from '../contract/access.ts';
import type { TeamStore } from '../store/store.ts';
import { hashPassphrase, isPassphrase, LEAST_LETTERS, lettersOf } from './passphrase.ts';
import { Refusal } from './refusal.ts';
import { beginSession, changedMeanwhile, wrongPassphrase } from './sign-in.ts';

function tooShort(letters: number): Refusal {
  const message = `The passphrase has ${letters} characters; at least ${LEAST_LETTERS} are needed, such as a sentence that only you would write.`;
  return new Refusal('invalid-input', `${message} Nothing was changed.`, {
    problems: [{ code: 'too-short', field: 'passphrase', message }],
  });
}

/**
 * Sets, changes or takes away the passphrase. It ends every session; whoever set it gets a new one, whose secret is
 * the answer (null: none is needed any more).
 */
export async function setPassphrase(
  store: TeamStore,
  { passphrase, current }: PassphraseChange,
  days: number,
): Promise<string | null> {
  const letters = passphrase === null ? LEAST_LETTERS : lettersOf(passphrase);
  if (letters < LEAST_LETTERS) throw tooShort(letters);
  const before = await store.sessions.passphrase();
  if (before !== null && !(await isPassphrase(before, current ?? ''))) throw wrongPassphrase();
  const hashed = passphrase === null ? null : await hashPassphrase(passphrase);
  return store.together(async (rooms) => {
    if ((await rooms.sessions.passphrase()) !== before) throw changedMeanwhile();
    await rooms.sessions.setPassphrase(hashed);
    return hashed === null ? null : beginSession(rooms, days);
  });
}
