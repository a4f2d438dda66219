import { createHash, randomBytes, timingSafeEqual } from 'node:crypto';

/** 256 bits of chance; 128 are already more than anybody can try out. */
const BYTES = 32;

/** A secret that cannot be guessed, base64url. */
export function newSecret(): string {
  return randomBytes(BYTES).toString('base64url');
}

/**
 * What is kept of such a secret: SHA-256, base64url. A slow hash is for what people think up; chance of this length
 * needs none.
 */
export function hashOf(secret: string): string {
  return createHash('sha256').update(secret).digest('base64url');
}

/** Takes as long whatever is different. */
export function sameHash(one: string, other: string): boolean {
  const [a, b] = [Buffer.from(one), Buffer.from(other)];
  return a.length === b.length && timingSafeEqual(a, b);
}
