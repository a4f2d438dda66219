import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import { BestOrderAnswer, BestOrderQuestion } from '../contract/best-order.ts';
import { Id } from '../contract/music.ts';
import { findBestOrder, type Planner } from '../services/find-best-order.ts';
import { bodyProblems } from './answers.ts';

export const bestOrderRoutes: FastifyPluginAsyncZod<{ readonly planner: Planner }> = async (
  app,
  { planner },
) => {
  app.post(
    '/api/services/:id/best-order',
    {
      schema: {
        tags: ['services'],
        summary: 'Weighs keys, leads and order of a service together; saves nothing',
        params: z.object({ id: Id }),
        body: BestOrderQuestion,
        response: {
          200: BestOrderAnswer,
          ...bodyProblems('no-such-service', 'unknown-member', 'not-possible', 'planner-busy'),
        },
      },
    },
    ({ team, params: { id }, body }) => findBestOrder(team, planner, id, body),
  );
};
