import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import { Id } from '../contract/music.ts';
import { LinkSecret, MarkedRange, SetPerson, SetView } from '../contract/set.ts';
import { limited } from '../plugins/attempts.ts';
import { giveSetCookie, takeSetCookie } from '../plugins/cookies.ts';
import { byLink, linkOf } from '../plugins/opened-link.ts';
import { findSetView } from '../services/find-set-view.ts';
import { markRange } from '../services/mark-range.ts';
import { openLink } from '../services/open-link.ts';
import { bodyProblems, Nothing, problems } from './answers.ts';

const tags = ['set'];
const params = z.object({ link: Id });
const WRONG_LINKS = ['wrong-link', 'link-ended', 'link-revoked'] as const;

/** What a set link opens, without an account. */
export const setRoutes: FastifyPluginAsyncZod = async (app) => {
  app.post(
    '/api/set/:link/session',
    {
      onRequest: limited('link'),
      schema: {
        tags,
        summary: 'Takes the secret of a set link for a cookie',
        params,
        body: LinkSecret,
        response: { 204: Nothing, ...bodyProblems(...WRONG_LINKS, 'too-many-attempts') },
      },
    },
    async (request, reply) => {
      reply.header('cache-control', 'no-store');
      const { link } = request.params;
      await openLink(request.team, link, request.body.secret);
      giveSetCookie(request, reply, link, request.body.secret);
      return reply.code(204).send();
    },
  );

  app.delete(
    '/api/set/:link/session',
    {
      schema: {
        tags,
        summary: 'Forgets the link in this browser',
        params,
        response: { 204: Nothing, ...problems('cross-site') },
      },
    },
    async (request, reply) => {
      reply.header('cache-control', 'no-store');
      takeSetCookie(request, reply, request.params.link);
      return reply.code(204).send();
    },
  );

  app.get(
    '/api/set/:link',
    {
      onRequest: byLink,
      schema: {
        tags,
        summary: 'The service that a set link opens, and whose pages there are',
        params,
        response: { 200: SetView, ...problems(...WRONG_LINKS) },
      },
    },
    async (request) => findSetView(request.team, linkOf(request)),
  );

  app.put(
    '/api/set/:link/people/:member/range',
    {
      onRequest: byLink,
      schema: {
        tags,
        summary: 'Marks where a singer’s voice sits comfortably, where the link allows it',
        params: params.extend({ member: Id }),
        body: MarkedRange,
        response: {
          200: SetPerson,
          ...bodyProblems(...WRONG_LINKS, 'not-allowed', 'no-such-person'),
        },
      },
    },
    async (request) => {
      const { params: where, body } = request;
      return markRange(request.team, linkOf(request), where.member, body);
    },
  );
};
