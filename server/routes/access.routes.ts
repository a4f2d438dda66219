import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { Access, PassphraseChange, SignIn } from '../contract/access.ts';
import { accessOf } from '../plugins/access.ts';
import { limited } from '../plugins/attempts.ts';
import {
  giveLeaderCookie,
  LEADER_DAYS,
  leaderSecret,
  takeLeaderCookie,
} from '../plugins/cookies.ts';
import { setPassphrase } from '../services/set-passphrase.ts';
import { signIn, signOut } from '../services/sign-in.ts';
import { bodyProblems, Nothing, problems } from './answers.ts';

const tags = ['access'];

/** Who may reach the leader's side. */
export const accessRoutes: FastifyPluginAsyncZod = async (app) => {
  app.get(
    '/api/access',
    {
      schema: {
        tags,
        summary: 'How the leader’s side stands to this browser',
        response: { 200: Access, ...problems() },
      },
    },
    async (request, reply) => {
      reply.header('cache-control', 'no-store');
      return accessOf(request);
    },
  );

  app.post(
    '/api/access/session',
    {
      onRequest: limited('passphrase'),
      schema: {
        tags,
        summary: 'Opens the leader’s side to this browser, by the passphrase',
        body: SignIn,
        response: {
          204: Nothing,
          ...bodyProblems('wrong-passphrase', 'too-many-attempts'),
        },
      },
    },
    async (request, reply) => {
      reply.header('cache-control', 'no-store');
      const secret = await signIn(request.team, request.body.passphrase, LEADER_DAYS);
      if (secret !== null) giveLeaderCookie(request, reply, secret);
      return reply.code(204).send();
    },
  );

  app.delete(
    '/api/access/session',
    {
      schema: {
        tags,
        summary: 'Shuts it to this browser again',
        response: { 204: Nothing, ...problems('cross-site') },
      },
    },
    async (request, reply) => {
      reply.header('cache-control', 'no-store');
      await signOut(request.team, leaderSecret(request));
      takeLeaderCookie(request, reply);
      return reply.code(204).send();
    },
  );

  app.put(
    '/api/access/passphrase',
    {
      onRequest: limited('passphrase'),
      schema: {
        tags,
        summary: 'Sets, changes or takes away the passphrase; every other browser must say it anew',
        body: PassphraseChange,
        response: {
          204: Nothing,
          ...bodyProblems('wrong-passphrase', 'too-many-attempts'),
        },
      },
    },
    async (request, reply) => {
      reply.header('cache-control', 'no-store');
      const secret = await setPassphrase(request.team, request.body, LEADER_DAYS);
      if (secret === null) takeLeaderCookie(request, reply);
      else giveLeaderCookie(request, reply, secret);
      return reply.code(204).send();
    },
  );
};
