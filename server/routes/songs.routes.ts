import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import { Id } from '../contract/music.ts';
import { SongDetailsChange } from '../contract/library.ts';
import {
  NewSong,
  Song,
  SongChange,
  SongList,
  SongListQuery,
  SongScore,
} from '../contract/songs.ts';
import { namedVersionOf, tag, versionOf } from '../plugins/versions.ts';
import { changeSong } from '../services/change-song.ts';
import { deleteSong, restoreSong } from '../services/delete-song.ts';
import { listSongs, requireSong, requireSource } from '../services/find-songs.ts';
import { SOURCE_TYPES, sourceType } from '../services/source-type.ts';
import { importSong } from '../services/import-song.ts';
import type { Reader } from '../services/read-songs.ts';
import { saveDetails } from '../services/save-details.ts';
import { saveScore } from '../services/save-score.ts';
import {
  bodyProblems,
  changeProblems,
  IfMatch,
  Nothing,
  problems,
  versionProblems,
} from './answers.ts';

const tags = ['songs'];
const params = z.object({ id: Id });

/** A hymn of four voices and eight verses has two hundred thousand bytes as JSON. */
const SCORE_LIMIT = 8 * 1024 * 1024;

export interface SongsRoutesOptions {
  readonly reader: Reader;
}

export const songsRoutes: FastifyPluginAsyncZod<SongsRoutesOptions> = async (app, { reader }) => {
  app.get(
    '/api/songs',
    {
      schema: {
        tags,
        summary: 'The songs of the team, by title',
        querystring: SongListQuery,
        response: { 200: SongList, ...problems() },
      },
    },
    async ({ team, query }) => ({
      songs: await listSongs(team, query.deleted === '1' ? 'deleted' : 'present'),
    }),
  );

  app.post(
    '/api/songs',
    {
      schema: {
        tags,
        summary: 'Brings a song; its source is kept as it was given',
        body: NewSong,
        response: {
          // It was sent before under the same name (`draft`), and is answered as it stands now.
          200: Song,
          201: Song,
          ...bodyProblems(
            'unreadable-song',
            'several-tunes',
            'broken-score',
            'reader-busy',
            'no-such-song',
          ),
        },
      },
    },
    async ({ team, body }, reply) => {
      const { song, again } = await importSong(team, reader, body);
      tag(reply, song.version)
        .header('location', `/api/songs/${song.id}`)
        .code(again ? 200 : 201);
      return song;
    },
  );

  app.get(
    '/api/songs/:id',
    {
      schema: {
        tags,
        summary: 'A song with its music, its source and what was answered and corrected',
        params,
        response: { 200: Song, ...problems('no-such-song') },
      },
    },
    async ({ team, params: { id } }, reply) => {
      const song = await team.together((rooms) => requireSong(rooms, id));
      tag(reply, song.version);
      return song;
    },
  );

  app.get(
    '/api/songs/:id/source',
    {
      schema: {
        tags,
        summary: 'The source of a song, byte for byte',
        params,
        produces: [...SOURCE_TYPES],
        response: {
          200: {
            description: 'The file as it was brought',
            content: Object.fromEntries(
              SOURCE_TYPES.map((type) => [
                type,
                { schema: z.custom<Buffer>().meta({ format: 'binary' }) },
              ]),
            ),
          },
          ...problems('no-such-song'),
        },
      },
    },
    async ({ team, params: { id } }, reply) => {
      const source = await requireSource(team, id);
      return reply.type(sourceType(source)).send(Buffer.from(source.bytes));
    },
  );

  app.patch(
    '/api/songs/:id',
    {
      schema: {
        tags,
        summary: 'Answers the doubt about the key, corrects a chord, or names the song or its tune',
        params,
        headers: IfMatch,
        body: SongChange,
        response: {
          200: Song,
          ...changeProblems('no-such-song', 'unreadable-chord', 'no-such-place'),
        },
      },
    },
    async (request, reply) => {
      const { team, params: where, body } = request;
      const song = await changeSong(team, where.id, versionOf(request), body);
      tag(reply, song.version);
      return song;
    },
  );

  app.put(
    '/api/songs/:id/score',
    {
      bodyLimit: SCORE_LIMIT,
      schema: {
        tags,
        summary: 'The music of a song as it was edited, whole',
        params,
        headers: IfMatch,
        body: SongScore,
        response: { 200: Song, ...changeProblems('no-such-song', 'broken-score') },
      },
    },
    async (request, reply) => {
      const { team, params: where, body } = request;
      const song = await saveScore(team, where.id, versionOf(request), body.score);
      tag(reply, song.version);
      return song;
    },
  );

  app.put(
    '/api/songs/:id/details',
    {
      schema: {
        tags,
        summary: 'What the team knows of a song beside its music, and its private note',
        params,
        headers: IfMatch,
        body: SongDetailsChange,
        response: { 200: Song, ...changeProblems('no-such-song', 'no-such-scripture') },
      },
    },
    async (request, reply) => {
      const { team, params: where, body } = request;
      const song = await saveDetails(team, where.id, versionOf(request), body);
      tag(reply, song.version);
      return song;
    },
  );

  app.delete(
    '/api/songs/:id',
    {
      schema: {
        tags,
        summary: 'Hides a song; it can be restored',
        params,
        headers: IfMatch,
        response: { 204: Nothing, ...versionProblems('no-such-song') },
      },
    },
    async (request, reply) => {
      tag(reply, await deleteSong(request.team, request.params.id, versionOf(request)));
      return reply.code(204).send();
    },
  );

  app.post(
    '/api/songs/:id/restore',
    {
      schema: {
        tags,
        summary: 'Brings a deleted song back',
        params,
        headers: IfMatch,
        response: { 200: Song, ...versionProblems('no-such-song') },
      },
    },
    async (request, reply) => {
      const song = await restoreSong(request.team, request.params.id, namedVersionOf(request));
      tag(reply, song.version);
      return song;
    },
  );
};
