import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import {
  ImportReport,
  ImportRow,
  LibraryQuery,
  ROWS,
  UnderwayQuery,
  type ImportLine,
} from '../contract/library.ts';
import type { Book } from '../services/library/book.ts';
import { ArchiveImports } from '../services/library/archive-imports.ts';
import { importRows } from '../services/library/import-rows.ts';
import type { SentBytes } from '../services/library/upload.ts';
import { archiveStream } from '../services/library/write-archive.ts';
import type { Reader } from '../services/read-songs.ts';
import { bodyProblems, Nothing, problems } from './answers.ts';
import { asFile } from './as-file.ts';

const tags = ['library'];
/** As many hymns as one archive can have: each takes fourteen thousand bytes of it. */
const ARCHIVE_LIMIT = 256 * 1024 * 1024;
const ZIP = 'application/zip';

export interface ArchiveRoutesOptions {
  readonly book: Book;
  readonly reader: Reader;
}

/** The whole library out, and in again. */
export const archiveRoutes: FastifyPluginAsyncZod<ArchiveRoutesOptions> = async (
  app,
  { book, reader },
) => {
  // Bytes as they are: in JSON they would take three times their room.
  app.removeContentTypeParser('application/json');
  app.addContentTypeParser(ZIP, ({ headers }, body, done) => {
    const isLarge = Number(headers['content-length']) > ARCHIVE_LIMIT;
    if (isLarge) done(Object.assign(new Error('too large'), { statusCode: 413 }));
    else done(null, body);
  });
  const imports = new ArchiveImports(reader, book);

  app.get(
    '/api/library',
    {
      schema: {
        tags,
        summary:
          'The whole library as one zip of open formats, up to 16,383 songs; private notes are not in it',
        response: {
          200: {
            description: 'The archive',
            content: {
              [ZIP]: {
                schema: z
                  .custom<Awaited<ReturnType<typeof archiveStream>>>()
                  .meta({ format: 'binary' }),
              },
            },
          },
          ...problems('not-possible'),
        },
      },
    },
    async ({ team }, reply) =>
      reply
        .type(ZIP)
        .header('cache-control', 'no-store')
        .header('content-disposition', asFile('Partbook library.zip'))
        .send(await archiveStream(team)),
  );

  app.post(
    '/api/library',
    {
      bodyLimit: ARCHIVE_LIMIT,
      schema: {
        tags,
        summary:
          'Brings a library back that was taken out; its zip, up to 256 MiB, is the body. Each song comes whole or not at all',
        description: `Whoever accepts ${ROWS} hears of each song as it comes, and can stop it (\`DELETE /api/library/import\`).`,
        consumes: [ZIP],
        querystring: LibraryQuery,
        body: z.custom<SentBytes>().meta({ format: 'binary' }),
        response: {
          200: {
            description: 'What became of each song',
            content: {
              'application/json': { schema: ImportReport },
              [ROWS]: { schema: z.union([ImportRow, z.custom<ReturnType<typeof importRows>>()]) },
            },
          },
          ...bodyProblems('unreadable-archive', 'reader-busy'),
        },
      },
    },
    async (request, reply) => {
      const { team, body, query, headers } = request;
      const underway = await imports.take(team, body, ARCHIVE_LIMIT, query);
      // Nobody is left to hear of it.
      reply.raw.once('close', underway.stop);
      if (headers.accept?.includes(ROWS)) {
        return reply
          .type(ROWS)
          .header('cache-control', 'no-store')
          .send(importRows(underway, (error) => request.log.error(error)));
      }
      const lines: ImportLine[] = [];
      await underway.run({ online: (line) => lines.push(line) });
      return { lines };
    },
  );

  app.delete(
    '/api/library/import',
    {
      schema: {
        tags,
        summary: 'Stops an archive that is being brought in, after the song it is at',
        querystring: UnderwayQuery,
        response: { 204: Nothing, ...problems('cross-site') },
      },
    },
    async ({ query }, reply) => {
      imports.stop(query.import);
      return reply.code(204).send();
    },
  );
};
