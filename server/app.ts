import Fastify, { type FastifyInstance } from 'fastify';
import type { Config } from './config.ts';
import { compression } from './plugins/compression.ts';
import { openApi } from './plugins/openapi.ts';
import { ownSite } from './plugins/own-site.ts';
import { problemDetails } from './plugins/problem-details.ts';
import { securityHeaders } from './plugins/security-headers.ts';
import { staticFiles } from './plugins/static-files.ts';
import { teamScope } from './plugins/team-scope.ts';
import { contentTags } from './plugins/versions.ts';
import { arrangementsRoutes } from './routes/arrangements.routes.ts';
import { membersRoutes } from './routes/members.routes.ts';
import type { Renderer } from './render/renderer.ts';
import { servicesRoutes } from './routes/services.routes.ts';
import { sheetsRoutes } from './routes/sheets.routes.ts';
import { songsRoutes } from './routes/songs.routes.ts';
import { teamRoutes } from './routes/team.routes.ts';
import type { Store } from './store/store.ts';

export interface Parts {
  readonly store: Store;
  /** Whose rows are shown. */
  readonly teamId: string;
  readonly renderer: Renderer;
}

/** Builds the app from its parts. It listens to nothing and owns nothing that must be closed but itself. */
export async function buildApp(config: Config, parts: Parts): Promise<FastifyInstance> {
  const app = Fastify({
    bodyLimit: config.bodyLimit,
    logger: { level: 'error', stream: process.stderr },
    routerOptions: { maxParamLength: 200 },
  });
  // Only JSON is taken: a form or plain text of another page's making never gets as far as a handler.
  app.removeContentTypeParser('text/plain');

  await app.register(problemDetails);
  await app.register(ownSite, { allowedHosts: config.allowedHosts });
  await app.register(securityHeaders);
  await app.register(contentTags);
  await app.register(compression);
  await app.register(openApi);
  await app.register(teamScope, parts);
  await app.register(teamRoutes);
  await app.register(songsRoutes);
  await app.register(membersRoutes);
  await app.register(arrangementsRoutes);
  await app.register(servicesRoutes);
  await app.register(sheetsRoutes, parts);
  await app.register(staticFiles, { webRoot: config.webRoot });
  return app;
}
