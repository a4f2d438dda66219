import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import { ImportReport, LibraryQuery } from '../contract/library.ts';
import type { Book } from '../services/library/book.ts';
import { importArchive } from '../services/library/import-archive.ts';
import { archiveStream } from '../services/library/write-archive.ts';
import type { Reader } from '../services/read-songs.ts';
import { bodyProblems, problems } from './answers.ts';
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
  app.addContentTypeParser(ZIP, { parseAs: 'buffer' }, (_request, body, done) => {
    done(null, body);
  });

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
        summary: 'Brings a library back that was taken out; its zip, up to 256 MiB, is the body',
        consumes: [ZIP],
        querystring: LibraryQuery,
        body: z.instanceof(Uint8Array).meta({ format: 'binary' }),
        response: { 200: ImportReport, ...bodyProblems('unreadable-archive', 'reader-busy') },
      },
    },
    ({ team, body, query }) => importArchive(team, reader, book, body, query.doubles),
  );
};
