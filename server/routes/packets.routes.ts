import type { FastifyReply, FastifyRequest } from 'fastify';
import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import { ROWS } from '../contract/library.ts';
import { Id } from '../contract/music.ts';
import { PacketQuery, PacketRow, PacketsQuery } from '../contract/packets.ts';
import { PROBLEMS, type ProblemDetails } from '../contract/problems.ts';
import { limited } from '../plugins/attempts.ts';
import { byLink, linkOf } from '../plugins/opened-link.ts';
import { matches } from '../plugins/versions.ts';
import { Stopped } from '../services/packets/jobs.ts';
import { packetRows } from '../services/packets/packet-rows.ts';
import type { Packets, PacketWish } from '../services/packets/packets.ts';
import { Refusal } from '../services/refusal.ts';
import { IfNoneMatch, NotModified, byLinkProblems, problems } from './answers.ts';
import { asFile } from './as-file.ts';

const tags = ['packets'];
const headers = IfNoneMatch;
/** Milliseconds: what took longer to make asks the link anew, for it may have been taken back in between. */
const AT_ONCE = 50;
const DESCRIPTION = `Whoever accepts ${ROWS} hears how far it is, and fetches the file afterwards under the same address; closing the connection stops the work.`;

export interface PacketsOptions {
  readonly packets: Packets;
}

/** The rows are for whoever listens; the file is what the address stands for. */
const answers = (type: 'application/pdf' | 'application/zip') => ({
  200: {
    description: 'The file, or rows that say how far it is',
    content: {
      [type]: { schema: z.custom<Buffer>().meta({ format: 'binary' }) },
      [ROWS]: { schema: z.union([PacketRow, z.custom<ReturnType<typeof packetRows>>()]) },
    },
  },
  304: NotModified,
});

function problemOf(request: FastifyRequest, error: unknown): ProblemDetails {
  const isOurs = !(error instanceof Refusal);
  if (isOurs) request.log.error(error);
  const code = isOurs ? 'internal-error' : error.code;
  const detail = isOurs
    ? 'The server could not finish this. Nothing was changed; try again.'
    : error.message;
  return { type: `/api/problems/${code}`, ...PROBLEMS[code], detail, code };
}

/** PDFs of what people play and sing from in a service, in order. */
export const packetsRoutes: FastifyPluginAsyncZod<PacketsOptions> = async (app, { packets }) => {
  async function answer(
    request: FastifyRequest,
    reply: FastifyReply,
    wish: PacketWish,
    again: () => Promise<void> = async () => undefined,
  ): Promise<FastifyReply> {
    const of = { team: request.team, stamp: request.stamp };
    if (request.headers.accept?.includes(ROWS)) {
      await packets.require(of, wish);
      const rows = packetRows(
        (waiter) => packets.find(of, wish, waiter),
        (error) => problemOf(request, error),
      );
      return reply.type(ROWS).header('cache-control', 'no-store').send(rows);
    }
    const gone = new AbortController();
    reply.raw.once('close', () => gone.abort());
    const begun = performance.now();
    const file = await packets.find(of, wish, { signal: gone.signal }).catch((error: unknown) => {
      if (!(error instanceof Stopped)) throw error;
      throw new Refusal('packets-busy', 'Nobody waited for this packet any more.');
    });
    if (performance.now() - begun > AT_ONCE) await again();
    if (!reply.hasHeader('cache-control')) reply.header('cache-control', 'private, no-cache');
    reply.header('etag', file.etag).header('vary', 'accept');
    if (matches(request.headers['if-none-match'], file.etag)) return reply.code(304).send();
    return reply.type(file.type).header('content-disposition', asFile(file.name)).send(file.bytes);
  }

  app.get(
    '/api/services/:id/packets',
    {
      schema: {
        tags,
        summary: 'The packets of everybody who serves, as PDFs in a zip',
        description: DESCRIPTION,
        params: z.object({ id: Id }),
        headers,
        querystring: PacketsQuery,
        response: {
          ...answers('application/zip'),
          ...problems('no-such-service', 'not-possible', 'engraver-busy', 'packets-busy'),
        },
      },
    },
    async (request, reply) => {
      const { params, query } = request;
      return answer(request, reply, { service: params.id, member: null, query, see: 'all' });
    },
  );

  app.get(
    '/api/services/:id/packets/:member',
    {
      schema: {
        tags,
        summary: 'The packet of one person for a service: all sheets in order, as a PDF',
        description: DESCRIPTION,
        params: z.object({ id: Id, member: Id }),
        headers,
        querystring: PacketQuery,
        response: {
          ...answers('application/pdf'),
          ...problems('no-such-service', 'no-such-person', 'engraver-busy', 'packets-busy'),
        },
      },
    },
    async (request, reply) => {
      const { params, query } = request;
      const { id: service, member } = params;
      return answer(request, reply, { service, member, query, see: 'all' });
    },
  );

  app.get(
    '/api/set/:link/packets/:member',
    {
      // The link first: whoever does not hold it uses up nobody's share.
      onRequest: [byLink, limited('pages')],
      schema: {
        tags: ['set'],
        summary: 'The packet of one person for the service that a set link opens, as a PDF',
        description: DESCRIPTION,
        params: z.object({ link: Id, member: Id }),
        headers,
        querystring: PacketQuery,
        response: {
          ...answers('application/pdf'),
          ...byLinkProblems('engraver-busy', 'packets-busy'),
        },
      },
    },
    async (request, reply) => {
      const { params, query } = request;
      const { serviceId: service } = linkOf(request);
      const wish = { service, member: params.member, query, see: 'by link' } as const;
      return answer(request, reply, wish, () => byLink(request, reply));
    },
  );
};
