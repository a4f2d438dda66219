import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import { FileQuery, ImportReport, NewSongs } from '../contract/library.ts';
import { Id } from '../contract/music.ts';
import type { Book } from '../services/library/book.ts';
import { importFiles } from '../services/library/import-files.ts';
import type { Reader } from '../services/read-songs.ts';
import { FILE_TYPES, writeSongFile } from '../services/write-song-file.ts';
import { bodyProblems, IfNoneMatch, NotModified, problems } from './answers.ts';
import { asFile } from './as-file.ts';

const tags = ['library'];
const params = z.object({ id: Id });
/** Of a folder of files in base64; a book of hymns has two megabytes. */
export const FILES_LIMIT = 24 * 1024 * 1024;

const binary = { schema: z.custom<Buffer>().meta({ format: 'binary' }) };

export interface SongFilesRoutesOptions {
  readonly book: Book;
  readonly reader: Reader;
}

/** Songs in and out as files. */
export const songFilesRoutes: FastifyPluginAsyncZod<SongFilesRoutesOptions> = async (
  app,
  { book, reader },
) => {
  app.get(
    '/api/songs/:id/file',
    {
      schema: {
        tags,
        summary: 'A song as a file that other programs read',
        params,
        headers: IfNoneMatch,
        querystring: FileQuery,
        response: {
          200: {
            description: 'The file',
            content: Object.fromEntries(
              FILE_TYPES.map((type) => [type.split(';')[0] ?? type, binary]),
            ),
          },
          304: NotModified,
          ...problems('no-such-song', 'not-possible'),
        },
      },
    },
    async ({ team, params: { id }, query }, reply) => {
      const { name, type, content } = await writeSongFile(team, id, query);
      const bytes =
        typeof content === 'string' ? Buffer.from(content, 'utf8') : Buffer.from(content);
      return reply.type(type).header('content-disposition', asFile(name)).send(bytes);
    },
  );

  app.post(
    '/api/imports',
    {
      bodyLimit: FILES_LIMIT,
      schema: {
        tags,
        summary:
          'Brings the songs of many files; each comes whole or not at all, and the report says why',
        body: NewSongs,
        response: { 200: ImportReport, ...bodyProblems('reader-busy') },
      },
    },
    ({ team, body }) => importFiles(team, reader, book, body),
  );
};
