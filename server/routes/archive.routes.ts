import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import { ImportReport, NewLibrary } from '../contract/library.ts';
import type { Book } from '../services/library/book.ts';
import { importArchive } from '../services/library/import-archive.ts';
import { archiveStream } from '../services/library/write-archive.ts';
import type { Reader } from '../services/read-songs.ts';
import { bodyProblems, problems } from './answers.ts';
import { asFile } from './as-file.ts';

const tags = ['library'];
/** In base64: an archive of some three thousand hymns. */
const ARCHIVE_LIMIT = 96 * 1024 * 1024;

export interface ArchiveRoutesOptions {
  readonly book: Book;
  readonly reader: Reader;
}

/** The whole library out, and in again. */
export const archiveRoutes: FastifyPluginAsyncZod<ArchiveRoutesOptions> = async (
  app,
  { book, reader },
) => {
  app.get(
    '/api/library',
    {
      schema: {
        tags,
        summary: 'The whole library as one zip of open formats; private notes are not in it',
        response: {
          200: {
            description: 'The archive',
            content: {
              'application/zip': {
                schema: z.custom<ReturnType<typeof archiveStream>>().meta({ format: 'binary' }),
              },
            },
          },
          ...problems(),
        },
      },
    },
    async ({ team }, reply) =>
      reply
        .type('application/zip')
        .header('cache-control', 'no-store')
        .header('content-disposition', asFile('Partbook library.zip'))
        .send(archiveStream(team)),
  );

  app.post(
    '/api/library',
    {
      bodyLimit: ARCHIVE_LIMIT,
      schema: {
        tags,
        summary: 'Brings a library back that was taken out',
        body: NewLibrary,
        response: { 200: ImportReport, ...bodyProblems('unreadable-archive', 'reader-busy') },
      },
    },
    ({ team, body }) => {
      const bytes = new Uint8Array(Buffer.from(body.bytes, 'base64'));
      return importArchive(team, reader, book, bytes, body.doubles);
    },
  );
};
