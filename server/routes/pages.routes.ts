import type { FastifyRequest } from 'fastify';
import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import { Id } from '../contract/music.ts';
import { ShapesAhead } from '../contract/members.ts';
import { PagesQuery, PersonPages } from '../contract/pages.ts';
import { PartsQuery, PersonParts } from '../contract/person-parts.ts';
import { limited } from '../plugins/attempts.ts';
import { byLink, linkOf } from '../plugins/opened-link.ts';
import type { Renderer } from '../services/engrave.ts';
import { findPages, findPersonParts, type PagesWish } from '../services/find-pages.ts';
import { findShapesAhead } from '../services/find-shapes-ahead.ts';
import type { KeptAnswers } from '../services/kept-answers.ts';
import { IfNoneMatch, NotModified, byLinkProblems, problems } from './answers.ts';
import { encodingFor, sendKept } from './send-kept.ts';

const tags = ['pages'];
const headers = IfNoneMatch;

/** Milliseconds: what took longer to make asks the link anew, for it may have been taken back in between. */
const AT_ONCE = 50;

export interface PagesOptions {
  readonly teamId: string;
  readonly renderer: Renderer;
  readonly kept: KeptAnswers;
}

/** Everything that one person opens or prints for a service, in one request. */
export const pagesRoutes: FastifyPluginAsyncZod<PagesOptions> = async (app, options) => {
  const { teamId, renderer, kept } = options;
  const find = (request: FastifyRequest, wish: Omit<PagesWish, 'encoding'>) =>
    findPages(
      { team: request.team, stamp: request.stamp, teamId, renderer, kept },
      { ...wish, encoding: encodingFor(request) },
    );

  app.get(
    '/api/services/:id/pages/:member',
    {
      schema: {
        tags,
        summary: 'All pages of one person for a service, in order',
        params: z.object({ id: Id, member: Id }),
        headers,
        querystring: PagesQuery,
        response: {
          200: PersonPages,
          304: NotModified,
          ...problems('no-such-service', 'no-such-person', 'engraver-busy'),
        },
      },
    },
    async (request, reply) => {
      const { params, query } = request;
      const { id: service, member } = params;
      return sendKept(request, reply, await find(request, { service, member, query, see: 'all' }));
    },
  );

  app.get(
    '/api/services/:id/pages/:member/parts',
    {
      schema: {
        tags,
        summary: 'The parts from which a device engraves the pages of one person by itself',
        params: z.object({ id: Id, member: Id }),
        headers,
        querystring: PartsQuery,
        response: {
          200: PersonParts,
          304: NotModified,
          ...problems('no-such-service', 'no-such-person'),
        },
      },
    },
    async (request, reply) => {
      const { team, stamp, params, query } = request;
      const { id: service, member } = params;
      const wish = { service, member, query, see: 'all', encoding: encodingFor(request) } as const;
      return sendKept(request, reply, await findPersonParts({ team, stamp, teamId, kept }, wish));
    },
  );

  app.get(
    '/api/services/:id/shapes/:member',
    {
      schema: {
        tags,
        summary:
          'The shapes of one person at the keys in a service, and which they have met before',
        params: z.object({ id: Id, member: Id }),
        headers,
        response: {
          200: ShapesAhead,
          304: NotModified,
          ...problems('no-such-service', 'no-such-member'),
        },
      },
    },
    async (request, reply) => {
      const { team, stamp, params } = request;
      const wish = { service: params.id, member: params.member, encoding: encodingFor(request) };
      return sendKept(request, reply, await findShapesAhead({ team, stamp, teamId, kept }, wish));
    },
  );

  app.get(
    '/api/set/:link/pages/:member',
    {
      // The link first: whoever does not hold it uses up nobody's share.
      onRequest: [byLink, limited('pages')],
      schema: {
        tags: ['set'],
        summary: 'All pages of one person for the service that a set link opens, in order',
        params: z.object({ link: Id, member: Id }),
        headers,
        querystring: PagesQuery,
        response: {
          200: PersonPages,
          304: NotModified,
          ...byLinkProblems('engraver-busy'),
        },
      },
    },
    async (request, reply) => {
      const { params, query } = request;
      const { serviceId: service } = linkOf(request);
      const { member } = params;
      const begun = performance.now();
      const found = await find(request, { service, member, query, see: 'by link' });
      if (performance.now() - begun > AT_ONCE) await byLink(request, reply);
      return sendKept(request, reply, found);
    },
  );

  app.get(
    '/api/set/:link/pages/:member/parts',
    {
      // The link first: whoever does not hold it uses up nobody's share.
      onRequest: [byLink, limited('pages')],
      schema: {
        tags: ['set'],
        summary: 'The parts of one person for the service that a set link opens, to engrave there',
        params: z.object({ link: Id, member: Id }),
        headers,
        querystring: PartsQuery,
        response: {
          200: PersonParts,
          304: NotModified,
          ...byLinkProblems(),
        },
      },
    },
    async (request, reply) => {
      const { team, stamp, params, query } = request;
      const { serviceId: service } = linkOf(request);
      const encoding = encodingFor(request);
      const wish = { service, member: params.member, query, see: 'by link', encoding } as const;
      const begun = performance.now();
      const found = await findPersonParts({ team, stamp, teamId, kept }, wish);
      if (performance.now() - begun > AT_ONCE) await byLink(request, reply);
      return sendKept(request, reply, found);
    },
  );
};
