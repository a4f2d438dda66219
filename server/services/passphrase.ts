import { hash, verify } from '@node-rs/argon2';

/**
 * argon2id with 19 MiB, 2 passes and 1 lane: the least that OWASP recommends (Password Storage Cheat Sheet, "Argon2id").
 * The library's `Algorithm` is a const enum that types alone know; 2 is its Argon2id. Salt and comparison are the
 * library's own. It works on a thread of its own, so that nobody else waits.
 */
const ARGON2ID = { algorithm: 2, memoryCost: 19_456, timeCost: 2, parallelism: 1 } as const;

/** NIST SP 800-63B-4, 3.1.1.2: at least 15 characters where the passphrase is the only lock. */
export const LEAST_LETTERS = 15;

/** One keyboard writes é as one character, another as two (NIST SP 800-63B-3, 5.1.1.2: normalise by NFKC or NFKD). */
function normalised(passphrase: string): string {
  return passphrase.normalize('NFKC');
}

/** Code points, as NIST SP 800-63B-4, 3.1.1.2, counts. */
export function lettersOf(passphrase: string): number {
  return [...normalised(passphrase)].length;
}

/** In the PHC string form, with its salt and parameters. */
export function hashPassphrase(passphrase: string): Promise<string> {
  return hash(normalised(passphrase), ARGON2ID);
}

export function isPassphrase(hashed: string, said: string): Promise<boolean> {
  return verify(hashed, normalised(said));
}
