import rateLimit, { type CreateRateLimitOptions } from '@fastify/rate-limit';
import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import plugin from 'fastify-plugin';
import { Refusal } from '../services/refusal.ts';
import { isHere } from './access.ts';

const MINUTE = 60_000;

/**
 * How often one address may try, and how often all other machines together. Every attempt counts, right or wrong:
 * several at once could otherwise slip through before the first is answered. NIST SP 800-63B-4, 3.2.2, allows no more
 * than 100 failed attempts on one account; here they are spread over an hour, since an account that stays shut would
 * shut out its owner. A secret of 256 bits cannot be found by trying: its limit only spares the server.
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
} as const satisfies Record<string, Record<'each' | 'all', CreateRateLimitOptions>>;

export type Door = keyof typeof LIMITS;
type Limiter = ReturnType<FastifyInstance['createRateLimit']>;

declare module 'fastify' {
  interface FastifyInstance {
    readonly limiters: Readonly<Record<Door, { readonly each: Limiter; readonly all: Limiter }>>;
  }
}

function tooMany(seconds: number): Refusal {
  const minutes = Math.ceil(seconds / 60);
  return new Refusal(
    'too-many-attempts',
    `That was tried too often. Try again in ${minutes === 1 ? 'a minute' : `${minutes} minutes`}. Nothing was changed.`,
  );
}

/** `onRequest` of a route that takes a secret. */
export function limited(door: Door) {
  return async (request: FastifyRequest, reply: FastifyReply): Promise<void> => {
    const { each, all } = request.server.limiters[door];
    // Nobody far away can shut out the machine itself: it does not count among all.
    for (const limiter of isHere(request) ? [each] : [each, all]) {
      const found = await limiter(request);
      if (found.isAllowed || !found.isExceeded) continue;
      // RFC 9110, 10.2.3: in whole seconds.
      reply.header('retry-after', found.ttlInSeconds);
      throw tooMany(found.ttlInSeconds);
    }
  };
}

export const attempts = plugin(
  async (app: FastifyInstance) => {
    await app.register(rateLimit, { global: false });
    const limiters = (door: Door) => ({
      each: app.createRateLimit(LIMITS[door].each),
      all: app.createRateLimit({ ...LIMITS[door].all, keyGenerator: () => 'all' }),
    });
    app.decorate('limiters', { passphrase: limiters('passphrase'), link: limiters('link') });
  },
  { name: 'attempts', dependencies: ['cookies'] },
);
