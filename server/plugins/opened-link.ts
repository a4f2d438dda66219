import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import plugin from 'fastify-plugin';
import { openLink, type OpenedLink } from '../services/open-link.ts';
import { setSecret } from './cookies.ts';

declare module 'fastify' {
  interface FastifyRequest {
    /** What the set link of this request opens; null where the route is not one of a set link. */
    openedLink: OpenedLink | null;
  }
}

/**
 * `onRequest` of every route `/api/set/:link/…`: refuses whoever does not hold the link, before anything else is looked
 * at, and asks the stored link each time.
 */
export async function byLink(request: FastifyRequest, reply: FastifyReply): Promise<void> {
  reply.header('cache-control', 'no-store');
  const { link } = request.params as { readonly link: string };
  request.openedLink = await openLink(request.team, link, setSecret(request));
  request.stamp = request.openedLink.stamp;
}

/** What the link of a request opens. Only for routes with `onRequest: byLink`. */
export function linkOf({ openedLink }: FastifyRequest): OpenedLink {
  if (!openedLink) throw new Error('a route of a set link without onRequest: byLink');
  return openedLink;
}

export const openedLinks = plugin(
  async (app: FastifyInstance) => {
    app.decorateRequest('openedLink', null);
  },
  { name: 'opened-links', dependencies: ['cookies', 'team-scope'] },
);
