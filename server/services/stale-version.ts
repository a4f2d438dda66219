import { Refusal } from './refusal.ts';

/** `what` begins the sentence: `The song “Abide with me”`. */
export function staleVersion(what: string): Refusal {
  return new Refusal(
    'stale-version',
    `${what} was changed in between, perhaps on another device. Nothing of yours was written over it; look at it as it is now and change it again.`,
  );
}
