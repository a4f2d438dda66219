import rateLimit, { type CreateRateLimitOptions } from '@fastify/rate-limit';
import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import plugin from 'fastify-plugin';
import { Refusal } from '../services/refusal.ts';
import { isHere } from './access.ts';

const MINUTE = 60_000;

interface Limits {
  readonly each: CreateRateLimitOptions;
  /** null: the others have no limit together. */
  readonly all: CreateRateLimitOptions | null;
}

/**
 * How often one address may try, and how often all other machines together. Every attempt counts, right or wrong:
 * several at once could otherwise slip through before the first is answered. NIST SP 800-63B-4, 3.2.2, allows no more
 * than 100 failed attempts on one account; here they are spread over an hour, since an account that stays shut would
 * shut out its owner. A secret of 256 bits cannot be found by trying: its limit only spares the server. So does that of
 * pages, which are engraved for each width and size of text: fifty a second are more than a whole team behind one address
 * asks for by reloading every second, and a loop comes to them. It is each address's own, so that no other can use it up.
 */
const LIMITS = {
  passphrase: {
    each: { max: 10, timeWindow: 15 * MINUTE },
    all: { max: 100, timeWindow: 60 * MINUTE },
  },
  link: {
    each: { max: 60, timeWindow: MINUTE },
    all: { max: 600, timeWindow: MINUTE },
  },
  pages: {
    each: { max: 3000, timeWindow: MINUTE },
    all: null,
  },
} as const satisfies Record<string, Limits>;

export type Door = keyof typeof LIMITS;
type Limiter = ReturnType<FastifyInstance['createRateLimit']>;

declare module 'fastify' {
  interface FastifyInstance {
    readonly limiters: Readonly<
      Record<Door, { readonly each: Limiter; readonly all: Limiter | null }>
    >;
  }
}

/** What was done too often, and what is safe. */
const SAID: Readonly<Record<Door, readonly [what: string, then: string]>> = {
  passphrase: ['That was tried too often.', ' Nothing was changed.'],
  link: ['That was tried too often.', ' Nothing was changed.'],
  pages: ['These pages were asked for too often from your network.', ''],
};

function tooMany(door: Door, seconds: number): Refusal {
  const minutes = Math.ceil(seconds / 60);
  const [what, then] = SAID[door];
  return new Refusal(
    'too-many-attempts',
    `${what} Try again in ${minutes === 1 ? 'a minute' : `${minutes} minutes`}.${then}`,
  );
}

/** `onRequest` of a route that takes a secret or costs the server much. */
export function limited(door: Door) {
  return async (request: FastifyRequest, reply: FastifyReply): Promise<void> => {
    const { each, all } = request.server.limiters[door];
    // Nobody far away can shut out the machine itself: it does not count among all.
    for (const limiter of isHere(request) || !all ? [each] : [each, all]) {
      const found = await limiter(request);
      if (found.isAllowed || !found.isExceeded) continue;
      // RFC 9110, 10.2.3: in whole seconds.
      reply.header('retry-after', found.ttlInSeconds);
      throw tooMany(door, found.ttlInSeconds);
    }
  };
}

export const attempts = plugin(
  async (app: FastifyInstance) => {
    await app.register(rateLimit, { global: false });
    const limiters = ({ each, all }: Limits) => ({
      // What was passed on to this machine is not asked here, whichever address it comes from.
      each: app.createRateLimit({
        ...each,
        keyGenerator: (request) => (isHere(request) ? 'here' : `from ${request.ip}`),
      }),
      all: all && app.createRateLimit({ ...all, keyGenerator: () => 'all' }),
    });
    app.decorate('limiters', {
      passphrase: limiters(LIMITS.passphrase),
      link: limiters(LIMITS.link),
      pages: limiters(LIMITS.pages),
    });
  },
  { name: 'attempts', dependencies: ['cookies'] },
);
