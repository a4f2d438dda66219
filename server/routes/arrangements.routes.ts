import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import { Arrangement, ArrangementChange } from '../contract/arrangements.ts';
import { Id } from '../contract/music.ts';
import { tag, versionOf } from '../plugins/versions.ts';
import { arrangeSong, findArrangement } from '../services/arrange-song.ts';
import { changeProblems, IfMatch, problems } from './answers.ts';

const tags = ['arrangements'];
const params = z.object({ id: Id });

export const arrangementsRoutes: FastifyPluginAsyncZod = async (app) => {
  app.get(
    '/api/songs/:id/arrangement',
    {
      schema: {
        tags,
        summary: 'How the team usually does the song',
        params,
        response: { 200: Arrangement, ...problems('no-such-song') },
      },
    },
    async ({ team, params: { id } }, reply) => {
      const arrangement = await findArrangement(team, id);
      tag(reply, arrangement.version);
      return arrangement;
    },
  );

  app.patch(
    '/api/songs/:id/arrangement',
    {
      schema: {
        tags,
        summary: 'Changes key, tempo, density, singers or player',
        params,
        headers: IfMatch,
        body: ArrangementChange,
        response: {
          200: Arrangement,
          ...changeProblems('no-such-song', 'unknown-member', 'not-possible'),
        },
      },
    },
    async (request, reply) => {
      const { team, params: where, body } = request;
      const arrangement = await arrangeSong(team, where.id, versionOf(request), body);
      tag(reply, arrangement.version);
      return arrangement;
    },
  );
};
