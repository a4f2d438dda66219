import { ask, type Answer, type Trouble } from './http.ts';
import { eraNow, findKept, forgetRefused, keep, type Match } from './kept.ts';

/** ms: how long the network may take where the device has an earlier answer. */
const PATIENCE = 3000;
/** The right to it has ended, or it is gone. */
const REFUSED = new Set([401, 403, 404, 410]);

export interface KeptAsk {
  readonly signal?: AbortSignal;
  readonly match?: Match;
  /** What is kept is given where the network is slow too, and not only where there is none. */
  readonly soon?: boolean;
  /** A refusal came after what was kept had been given: that must go from the screen. */
  readonly onlate?: (trouble: Trouble) => void;
}

let tell: (path: string, came: number | null) => void = () => undefined;

/** Who is told that an answer came from this device, and from when it is; null: it came from the server. */
export function onFromDevice(told: typeof tell): void {
  tell = told;
}

async function askFresh<T>(path: string, signal: AbortSignal | undefined): Promise<Answer<T>> {
  const since = eraNow();
  const answer = await ask<T>(path, {
    ...(signal && { signal }),
    onanswer: (response) => void keep(path, response, since),
  });
  if (answer.ok) tell(path, null);
  else if (REFUSED.has(answer.trouble.status)) {
    await forgetRefused(path, answer.trouble.status, answer.trouble.code);
  }
  return answer;
}

const after = (ms: number): Promise<null> =>
  new Promise((done) => setTimeout(() => done(null), ms));

/**
 * Asks the server first. Where no answer comes, an earlier one that this device keeps. What is refused is forgotten and
 * never shown.
 */
export async function askKept<T>(path: string, options: KeptAsk = {}): Promise<Answer<T>> {
  const { signal, match = 'exact', soon = false, onlate } = options;
  const fresh = askFresh<T>(path, signal);
  // It is waited for below; until then nobody hears that it was broken off.
  fresh.catch(() => undefined);
  const kept = await findKept<T>(path, match);
  if (!kept) return fresh;
  const first = await (soon ? Promise.race([fresh, after(PATIENCE)]) : fresh);
  const isNoAnswer =
    first && !first.ok && (first.trouble.status === 0 || first.trouble.status >= 500);
  if (first && !isNoAnswer) return first;
  if (!first) {
    void fresh.then(
      (late) => !late.ok && REFUSED.has(late.trouble.status) && onlate?.(late.trouble),
      () => undefined,
    );
  }
  tell(path, kept.came);
  return { ok: true, value: kept.value, version: kept.version };
}
