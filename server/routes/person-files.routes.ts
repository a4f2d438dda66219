import type { FastifyReply } from 'fastify';
import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import { Id } from '../contract/music.ts';
import { PersonFilesQuery } from '../contract/part-files.ts';
import { limited } from '../plugins/attempts.ts';
import { byLink, linkOf } from '../plugins/opened-link.ts';
import { writePersonParts, type PersonParts } from '../services/write-person-parts.ts';
import { IfNoneMatch, NotModified, byLinkProblems, problems } from './answers.ts';
import { asFile } from './as-file.ts';

const headers = IfNoneMatch;
const ZIP = 'application/zip';
const archive = {
  description: 'The files',
  content: { [ZIP]: { schema: z.custom<Buffer>().meta({ format: 'binary' }) } },
};

const send = (reply: FastifyReply, { name, bytes }: PersonParts) =>
  reply.type(ZIP).header('content-disposition', asFile(name)).send(Buffer.from(bytes));

/** Everything that one person plays in a service, for other programs, in one zip. */
export const personFilesRoutes: FastifyPluginAsyncZod = async (app) => {
  app.get(
    '/api/services/:id/pages/:member/files',
    {
      schema: {
        tags: ['pages'],
        summary: 'All parts of one person for a service as a zip of MusicXML and MIDI, in order',
        params: z.object({ id: Id, member: Id }),
        headers,
        querystring: PersonFilesQuery,
        response: {
          200: archive,
          304: NotModified,
          ...problems('no-such-service', 'no-such-person'),
        },
      },
    },
    async ({ team, params: { id: service, member }, query }, reply) =>
      send(reply, await writePersonParts(team, { service, member, see: 'all' }, query)),
  );

  app.get(
    '/api/set/:link/pages/:member/files',
    {
      // The link first: whoever does not hold it uses up nobody's share.
      onRequest: [byLink, limited('pages')],
      schema: {
        tags: ['set'],
        summary:
          'All parts of one person for the service that a set link opens, as a zip, in order',
        params: z.object({ link: Id, member: Id }),
        headers,
        querystring: PersonFilesQuery,
        response: {
          200: archive,
          304: NotModified,
          ...byLinkProblems(),
        },
      },
    },
    async (request, reply) => {
      const { params, query } = request;
      const { serviceId: service } = linkOf(request);
      const wish = { service, member: params.member, see: 'by link' } as const;
      const found = await writePersonParts(request.team, wish, query);
      // It may have been taken back while they were written.
      await byLink(request, reply);
      return send(reply, found);
    },
  );
};
