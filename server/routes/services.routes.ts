import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import { Id } from '../contract/music.ts';
import {
  NewService,
  Service,
  ServiceChange,
  ServiceList,
  ServiceListQuery,
} from '../contract/services.ts';
import { namedVersionOf, tag, versionOf } from '../plugins/versions.ts';
import { deleteService, restoreService } from '../services/delete-service.ts';
import { listServices, requireService } from '../services/find-services.ts';
import { addService, changeService } from '../services/save-service.ts';
import {
  bodyProblems,
  changeProblems,
  IfMatch,
  Nothing,
  problems,
  versionProblems,
} from './answers.ts';

const tags = ['services'];
const params = z.object({ id: Id });

export const servicesRoutes: FastifyPluginAsyncZod = async (app) => {
  app.get(
    '/api/services',
    {
      schema: {
        tags,
        summary: 'The services of the team, by date',
        querystring: ServiceListQuery,
        response: { 200: ServiceList, ...problems() },
      },
    },
    async ({ team, query }) => ({
      services: await listServices(team, query.deleted === '1' ? 'deleted' : 'present'),
    }),
  );

  app.post(
    '/api/services',
    {
      schema: {
        tags,
        summary: 'Adds a service, empty or begun with the order and the people of another',
        body: NewService,
        response: {
          201: Service,
          ...bodyProblems('no-such-service', 'unknown-song', 'unknown-member', 'not-possible'),
        },
      },
    },
    async ({ team, body }, reply) => {
      const service = await addService(team, body);
      tag(reply, service.version).header('location', `/api/services/${service.id}`).code(201);
      return service;
    },
  );

  app.get(
    '/api/services/:id',
    {
      schema: {
        tags,
        summary: 'A service with its order and its people',
        params,
        response: { 200: Service, ...problems('no-such-service') },
      },
    },
    async ({ team, params: { id } }, reply) => {
      const service = await team.together((rooms) => requireService(rooms, id));
      tag(reply, service.version);
      return service;
    },
  );

  app.patch(
    '/api/services/:id',
    {
      schema: {
        tags,
        summary: 'Changes a service; its order and its people are sent whole',
        params,
        headers: IfMatch,
        body: ServiceChange,
        response: {
          200: Service,
          ...changeProblems('no-such-service', 'unknown-song', 'unknown-member', 'not-possible'),
        },
      },
    },
    async (request, reply) => {
      const { team, params: where, body } = request;
      const service = await changeService(team, where.id, versionOf(request), body);
      tag(reply, service.version);
      return service;
    },
  );

  app.delete(
    '/api/services/:id',
    {
      schema: {
        tags,
        summary: 'Hides a service; it can be restored',
        params,
        headers: IfMatch,
        response: { 204: Nothing, ...versionProblems('no-such-service') },
      },
    },
    async (request, reply) => {
      tag(reply, await deleteService(request.team, request.params.id, versionOf(request)));
      return reply.code(204).send();
    },
  );

  app.post(
    '/api/services/:id/restore',
    {
      schema: {
        tags,
        summary: 'Brings a deleted service back',
        params,
        headers: IfMatch,
        response: { 200: Service, ...versionProblems('no-such-service') },
      },
    },
    async (request, reply) => {
      const { team, params: where } = request;
      const service = await restoreService(team, where.id, namedVersionOf(request));
      tag(reply, service.version);
      return service;
    },
  );
};
