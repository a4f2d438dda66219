import type { FastifyInstance } from 'fastify';
import plugin from 'fastify-plugin';
import type { Store, TeamStore } from '../store/store.ts';

declare module 'fastify' {
  interface FastifyRequest {
    /** The rows of the team that asks, and no others. */
    team: TeamStore;
    /** The count of its changes, where whoever let this request in has read it on the way; else null. */
    stamp: number | null;
  }
}

export interface TeamScopeOptions {
  readonly store: Store;
  readonly teamId: string;
}

/** Ties every request to one team. Handlers have no other way to stored things. */
export const teamScope = plugin(
  async (app: FastifyInstance, { store, teamId }: TeamScopeOptions) => {
    const team = store.forTeam(teamId);
    app.decorateRequest('team', { getter: () => team });
    app.decorateRequest('stamp', null);
  },
  { name: 'team-scope' },
);
