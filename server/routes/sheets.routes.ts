import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import { KeyFitAnswer, KeyFitQuery } from '../contract/key-fit.ts';
import { Id } from '../contract/music.ts';
import { PartFileQuery } from '../contract/part-files.ts';
import {
  MusicXmlQuery,
  SheetAnswer,
  SheetQuery,
  SongSystems,
  SongSystemsQuery,
} from '../contract/sheets.ts';
import type { Renderer } from '../services/engrave.ts';
import { engraveSong } from '../services/engrave-song.ts';
import { fitKeys } from '../services/fit-keys.ts';
import { makeSheet } from '../services/make-sheet.ts';
import { PART_FILE_TYPES } from '../services/part-file.ts';
import { writeMusicXml } from '../services/write-musicxml.ts';
import { writePart } from '../services/write-part.ts';
import { IfNoneMatch, NotModified, problems } from './answers.ts';
import { asFile } from './as-file.ts';

const params = z.object({ id: Id });
const headers = IfNoneMatch;
const MUSICXML = 'application/vnd.recordare.musicxml+xml';

export interface SheetsOptions {
  readonly renderer: Renderer;
}

/** What is computed from a song and never stored. */
export const sheetsRoutes: FastifyPluginAsyncZod<SheetsOptions> = async (app, { renderer }) => {
  app.get(
    '/api/songs/:id/sheet',
    {
      schema: {
        tags: ['sheets'],
        summary: 'The page of one player, engraved for a view',
        params,
        headers,
        querystring: SheetQuery,
        response: {
          200: SheetAnswer,
          304: NotModified,
          ...problems(
            'no-such-song',
            'no-such-member',
            'unreadable-key',
            'no-such-verse',
            'not-possible',
            'engraver-busy',
          ),
        },
      },
    },
    ({ team, params: { id }, query }) => makeSheet(team, renderer, id, query),
  );

  app.get(
    '/api/songs/:id/part',
    {
      schema: {
        tags: ['sheets'],
        summary: 'The part of one player as a file that other programs read',
        params,
        headers,
        querystring: PartFileQuery,
        response: {
          200: {
            description: 'The file',
            content: Object.fromEntries(
              PART_FILE_TYPES.map((type) => [
                type,
                { schema: z.custom<Buffer>().meta({ format: 'binary' }) },
              ]),
            ),
          },
          304: NotModified,
          ...problems('no-such-song', 'no-such-member', 'unreadable-key', 'not-possible'),
        },
      },
    },
    async ({ team, params: { id }, query }, reply) => {
      const { name, type, content } = await writePart(team, id, query);
      const bytes =
        typeof content === 'string' ? Buffer.from(content, 'utf8') : Buffer.from(content);
      return reply.type(type).header('content-disposition', asFile(name)).send(bytes);
    },
  );

  app.get(
    '/api/songs/:id/score-systems',
    {
      schema: {
        tags: ['sheets'],
        summary: 'Melody, words and chords of the song, engraved for a view',
        params,
        headers,
        querystring: SongSystemsQuery,
        response: {
          200: SongSystems,
          304: NotModified,
          ...problems(
            'no-such-song',
            'unreadable-key',
            'no-such-verse',
            'not-possible',
            'engraver-busy',
          ),
        },
      },
    },
    ({ team, params: { id }, query }) => engraveSong(team, renderer, id, query),
  );

  app.get(
    '/api/songs/:id/musicxml',
    {
      schema: {
        tags: ['sheets'],
        summary: 'The song as a MusicXML 4.0 file',
        params,
        headers,
        querystring: MusicXmlQuery,
        response: {
          200: {
            description: 'The file',
            content: { [MUSICXML]: { schema: z.string() } },
          },
          304: NotModified,
          ...problems('no-such-song', 'unreadable-key', 'not-possible'),
        },
      },
    },
    async ({ team, params: { id }, query }, reply) => {
      const { name, text } = await writeMusicXml(team, id, query.key);
      return reply.type(MUSICXML).header('content-disposition', asFile(name)).send(text);
    },
  );

  app.get(
    '/api/songs/:id/key-fit',
    {
      schema: {
        tags: ['arrangements'],
        summary: 'How the tune lies in each voice in each key',
        params,
        headers,
        querystring: KeyFitQuery,
        response: {
          200: KeyFitAnswer,
          304: NotModified,
          ...problems('no-such-song', 'unknown-member'),
        },
      },
    },
    ({ team, params: { id }, query }) => fitKeys(team, id, query),
  );
};
