import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import {
  Known,
  Member,
  MemberChange,
  MemberList,
  MemberListQuery,
  NewMember,
} from '../contract/members.ts';
import { Id } from '../contract/music.ts';
import { namedVersionOf, tag, versionOf } from '../plugins/versions.ts';
import { findKnown } from '../services/find-known.ts';
import { listMembers, requireMember } from '../services/find-members.ts';
import type { KeptAnswers } from '../services/kept-answers.ts';
import { addMember, changeMember, deleteMember, restoreMember } from '../services/save-member.ts';
import {
  bodyProblems,
  changeProblems,
  IfMatch,
  IfNoneMatch,
  Nothing,
  NotModified,
  problems,
  versionProblems,
} from './answers.ts';
import { encodingFor, sendKept } from './send-kept.ts';

const tags = ['members'];
const params = z.object({ id: Id });

export interface MembersOptions {
  readonly teamId: string;
  readonly kept: KeptAnswers;
}

export const membersRoutes: FastifyPluginAsyncZod<MembersOptions> = async (app, options) => {
  const { teamId, kept } = options;

  app.get(
    '/api/members',
    {
      schema: {
        tags,
        summary: 'The members of the team, by name',
        querystring: MemberListQuery,
        response: { 200: MemberList, ...problems() },
      },
    },
    async ({ team, query }) => ({
      members: await listMembers(team, query.deleted === '1' ? 'deleted' : 'present'),
    }),
  );

  app.post(
    '/api/members',
    {
      schema: {
        tags,
        summary: 'Adds a member',
        body: NewMember,
        response: { 201: Member, ...bodyProblems() },
      },
    },
    async ({ team, body }, reply) => {
      const member = await addMember(team, body);
      tag(reply, member.version).header('location', `/api/members/${member.id}`).code(201);
      return member;
    },
  );

  app.get(
    '/api/members/:id',
    {
      schema: {
        tags,
        summary: 'A member',
        params,
        response: { 200: Member, ...problems('no-such-member') },
      },
    },
    async ({ team, params: { id } }, reply) => {
      const member = await requireMember(team, id);
      tag(reply, member.version);
      return member;
    },
  );

  app.get(
    '/api/members/:id/known',
    {
      schema: {
        tags,
        summary: 'What a member has met at the keys in the services that are over',
        params,
        headers: IfNoneMatch,
        response: { 200: Known, 304: NotModified, ...problems('no-such-member') },
      },
    },
    async (request, reply) => {
      const { team, stamp, params: where } = request;
      const encoding = encodingFor(request);
      return sendKept(
        request,
        reply,
        await findKnown({ team, stamp, teamId, kept }, { member: where.id, encoding }),
      );
    },
  );

  app.patch(
    '/api/members/:id',
    {
      schema: {
        tags,
        summary: 'Changes what is known of a member',
        params,
        headers: IfMatch,
        body: MemberChange,
        response: { 200: Member, ...changeProblems('no-such-member') },
      },
    },
    async (request, reply) => {
      const { team, params: where, body } = request;
      const member = await changeMember(team, where.id, versionOf(request), body);
      tag(reply, member.version);
      return member;
    },
  );

  app.delete(
    '/api/members/:id',
    {
      schema: {
        tags,
        summary: 'Hides a member; they can be restored',
        params,
        headers: IfMatch,
        response: { 204: Nothing, ...versionProblems('no-such-member') },
      },
    },
    async (request, reply) => {
      tag(reply, await deleteMember(request.team, request.params.id, versionOf(request)));
      return reply.code(204).send();
    },
  );

  app.post(
    '/api/members/:id/restore',
    {
      schema: {
        tags,
        summary: 'Brings a deleted member back',
        params,
        headers: IfMatch,
        response: { 200: Member, ...versionProblems('no-such-member') },
      },
    },
    async (request, reply) => {
      const member = await restoreMember(request.team, request.params.id, namedVersionOf(request));
      tag(reply, member.version);
      return member;
    },
  );
};
