import type { Access, PassphraseChange } from '#server/contract/access.ts';
import { ask, type Answer } from './http.ts';

export { forgetLeaders } from './kept.ts';

export function findAccess(): Promise<Answer<Access>> {
  return ask('/access');
}

export function signIn(passphrase: string): Promise<Answer<void>> {
  return ask('/access/session', { method: 'POST', body: { passphrase } });
}

export function signOut(): Promise<Answer<void>> {
  return ask('/access/session', { method: 'DELETE' });
}

export function changePassphrase(change: PassphraseChange): Promise<Answer<void>> {
  return ask('/access/passphrase', { method: 'PUT', body: change });
}
