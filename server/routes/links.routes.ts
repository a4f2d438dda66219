import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import {
  Addresses,
  MadeSetLink,
  NewSetLink,
  SetLink,
  SetLinkChange,
  SetLinkList,
} from '../contract/links.ts';
import { Id } from '../contract/music.ts';
import { tag, versionOf } from '../plugins/versions.ts';
import { changeLink } from '../services/change-link.ts';
import { findAddresses, type Interfaces, type Listening } from '../services/find-addresses.ts';
import { listLinks } from '../services/find-links.ts';
import { makeLink } from '../services/make-link.ts';
import { bodyProblems, changeProblems, IfMatch, problems } from './answers.ts';

const tags = ['links'];
const params = z.object({ id: Id });

export interface LinksOptions {
  readonly listening: Listening;
  /** The network addresses of this machine. */
  readonly interfaces: () => Interfaces;
}

/** Set links as the leader makes, sees and takes them back. */
export const linksRoutes: FastifyPluginAsyncZod<LinksOptions> = async (
  app,
  { listening, interfaces },
) => {
  app.get(
    '/api/services/:id/links',
    {
      schema: {
        tags,
        summary: 'The set links of a service, the oldest first',
        params,
        response: { 200: SetLinkList, ...problems('no-such-service') },
      },
    },
    async ({ team, params: { id } }, reply) => {
      reply.header('cache-control', 'no-store');
      return { links: await listLinks(team, id) };
    },
  );

  app.post(
    '/api/services/:id/links',
    {
      schema: {
        tags,
        summary: 'Makes a set link and says its secret, this once',
        params,
        body: NewSetLink,
        response: { 201: MadeSetLink, ...bodyProblems('no-such-service') },
      },
    },
    async ({ team, params: { id }, body }, reply) => {
      const made = await makeLink(team, id, body);
      tag(reply, made.link.version).code(201);
      return made;
    },
  );

  app.patch(
    '/api/links/:id',
    {
      schema: {
        tags,
        summary: 'Changes a set link, takes it back, or lets it open again',
        params,
        headers: IfMatch,
        body: SetLinkChange,
        response: { 200: SetLink, ...changeProblems('no-such-link') },
      },
    },
    async (request, reply) => {
      const { team, params: where, body } = request;
      const link = await changeLink(team, where.id, versionOf(request), body);
      tag(reply, link.version);
      return link;
    },
  );

  app.get(
    '/api/addresses',
    {
      schema: {
        tags,
        summary: 'Where telephones in the same network find the app',
        response: { 200: Addresses, ...problems() },
      },
    },
    async ({ socket }, reply) => {
      reply.header('cache-control', 'no-store');
      const port = socket.localPort ?? listening.port;
      return { origins: findAddresses({ ...listening, port }, interfaces()) };
    },
  );
};
