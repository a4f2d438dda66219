import { keyOfSignature, sameKey } from '../../pitch/key.ts';
import type { KeyAt } from '../../score/score.ts';

/** Whether signature and mode say the key, so that both can be written. */
export function saysKey({ key, signature }: KeyAt): boolean {
  return sameKey(keyOfSignature(signature, key.mode), key);
}
