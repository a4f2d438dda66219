import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import {
  DoubleAnswer,
  DoubleQuestion,
  SameMeterAnswer,
  SearchAnswer,
  SearchQuery,
  TuneAnswer,
  TuneQuery,
} from '../contract/library.ts';
import { Id } from '../contract/music.ts';
import { SongYear, YearQuery } from '../contract/year.ts';
import { findYear } from '../services/find-year.ts';
import { type Book } from '../services/library/book.ts';
import { findDouble } from '../services/library/find-double.ts';
import { findByNotes } from '../services/library/find-tunes.ts';
import { findSameMeter } from '../services/library/same-meter.ts';
import { searchSongs } from '../services/library/search-songs.ts';
import { bodyProblems, problems } from './answers.ts';

const tags = ['library'];
const params = z.object({ id: Id });

export interface LibraryRoutesOptions {
  readonly book: Book;
}

/** What the whole book is asked for. */
export const libraryRoutes: FastifyPluginAsyncZod<LibraryRoutesOptions> = async (app, { book }) => {
  app.get(
    '/api/songs/search',
    {
      schema: {
        tags,
        summary: 'Songs by words, key, meter, tempo, range and rest, all together',
        querystring: SearchQuery,
        response: { 200: SearchAnswer, ...problems('unreadable-key', 'no-such-scripture') },
      },
    },
    async ({ team, query }) => searchSongs(team, book, query),
  );

  app.get(
    '/api/songs/year',
    {
      schema: {
        tags,
        summary: 'What was sung in the 52 weeks up to a day, in which key and led by whom',
        querystring: YearQuery,
        response: { 200: SongYear, ...problems() },
      },
    },
    async ({ team, query }) => findYear(team, query.until),
  );

  app.get(
    '/api/songs/by-notes',
    {
      schema: {
        tags,
        summary: 'Songs by the first notes of their tunes, in any key',
        querystring: TuneQuery,
        response: { 200: TuneAnswer, ...problems('unreadable-notes') },
      },
    },
    async ({ team, query }) => findByNotes(team, book, query.notes),
  );

  app.post(
    '/api/songs/double',
    {
      schema: {
        tags,
        summary: 'Whether a song that is not kept yet is like one of the book; nothing is changed',
        body: DoubleQuestion,
        response: { 200: DoubleAnswer, ...bodyProblems() },
      },
    },
    ({ team, body }) => findDouble(team, book, body),
  );

  app.get(
    '/api/songs/:id/same-meter',
    {
      schema: {
        tags,
        summary: 'Other songs of the same hymn meter, with a caution about stress',
        params,
        response: { 200: SameMeterAnswer, ...problems('no-such-song') },
      },
    },
    async ({ team, params: { id } }) => findSameMeter(team, book, id),
  );
};
