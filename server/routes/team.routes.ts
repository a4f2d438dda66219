import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import { PROBLEMS, ProblemKind, type ProblemCode } from '../contract/problems.ts';
import { Health, Team, TeamChange } from '../contract/team.ts';
import { tag, versionOf } from '../plugins/versions.ts';
import { Refusal } from '../services/refusal.ts';
import { changeTeam } from '../services/change-team.ts';
import { requireTeam } from '../services/find-team.ts';
import { changeProblems, IfMatch, problems } from './answers.ts';

const isCode = (text: string): text is ProblemCode => Object.hasOwn(PROBLEMS, text);

/** The team, and what a program wants to know about the API itself. */
export const teamRoutes: FastifyPluginAsyncZod = async (app) => {
  app.get(
    '/api/team',
    {
      schema: {
        tags: ['team'],
        summary: 'The team that everything here belongs to',
        response: { 200: Team, ...problems() },
      },
    },
    async ({ team }, reply) => {
      const found = await requireTeam(team);
      tag(reply, found.version);
      return found;
    },
  );

  app.patch(
    '/api/team',
    {
      schema: {
        tags: ['team'],
        summary: 'Names the team; keeps its demo, clears it or brings it back',
        headers: IfMatch,
        body: TeamChange,
        response: { 200: Team, ...changeProblems('no-demo') },
      },
    },
    async (request, reply) => {
      const changed = await changeTeam(request.team, versionOf(request), request.body);
      tag(reply, changed.version);
      return changed;
    },
  );

  app.get(
    '/api/health',
    {
      schema: {
        tags: ['about'],
        summary: 'Whether the app and its database answer',
        response: { 200: Health, ...problems() },
      },
    },
    async ({ team }, reply) => {
      await requireTeam(team);
      reply.header('cache-control', 'no-store');
      return { status: 'ok' as const };
    },
  );

  app.get(
    '/api/problems/:code',
    {
      schema: {
        tags: ['about'],
        summary: 'What a problem code means',
        params: z.object({ code: z.string().max(40) }),
        response: { 200: ProblemKind, ...problems('not-found') },
      },
    },
    async ({ params: { code } }) => {
      if (!isCode(code)) throw new Refusal('not-found', `There is no problem of the code ${code}.`);
      return { code, ...PROBLEMS[code] };
    },
  );
};
