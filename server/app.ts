import { networkInterfaces } from 'node:os';
import Fastify, { type FastifyInstance } from 'fastify';
import type { Config } from './config.ts';
import { access } from './plugins/access.ts';
import { attempts } from './plugins/attempts.ts';
import { compression } from './plugins/compression.ts';
import { cookies } from './plugins/cookies.ts';
import { openApi } from './plugins/openapi.ts';
import { openedLinks } from './plugins/opened-link.ts';
import { ownSite } from './plugins/own-site.ts';
import { problemDetails } from './plugins/problem-details.ts';
import { securityHeaders } from './plugins/security-headers.ts';
import { staticFiles } from './plugins/static-files.ts';
import { teamScope } from './plugins/team-scope.ts';
import { contentTags } from './plugins/versions.ts';
import { accessRoutes } from './routes/access.routes.ts';
import { archiveRoutes } from './routes/archive.routes.ts';
import { createPlanner, type Planner } from './planning/planner.ts';
import { arrangementsRoutes } from './routes/arrangements.routes.ts';
import { bestOrderRoutes } from './routes/best-order.routes.ts';
import { libraryRoutes } from './routes/library.routes.ts';
import { linksRoutes } from './routes/links.routes.ts';
import { membersRoutes } from './routes/members.routes.ts';
import type { Reader } from './reading/reader.ts';
import { createBinder, type Binder } from './render/packet/binder.ts';
import type { Renderer } from './render/renderer.ts';
import { packetsRoutes } from './routes/packets.routes.ts';
import { pagesRoutes } from './routes/pages.routes.ts';
import { personFilesRoutes } from './routes/person-files.routes.ts';
import { servicesRoutes } from './routes/services.routes.ts';
import { setRoutes } from './routes/set.routes.ts';
import { sheetsRoutes } from './routes/sheets.routes.ts';
import { songFilesRoutes } from './routes/song-files.routes.ts';
import { songsRoutes } from './routes/songs.routes.ts';
import { teamRoutes } from './routes/team.routes.ts';
import type { Interfaces } from './services/find-addresses.ts';
import { KeptAnswers } from './services/kept-answers.ts';
import { Book } from './services/library/book.ts';
import { Packets } from './services/packets/packets.ts';
import type { Store } from './store/store.ts';

export interface Parts {
  readonly store: Store;
  /** Whose rows are shown. */
  readonly teamId: string;
  readonly renderer: Renderer;
  readonly reader: Reader;
  /** Missing: one of the app's own, which starts with the first packet and ends with the app. */
  readonly binder?: Binder;
  /** Missing: one of the app's own, likewise. */
  readonly planner?: Planner;
  /** The network addresses of this machine; missing: as the system says. */
  readonly interfaces?: () => Interfaces;
}

/** Names that the app answers to, beside localhost and addresses in figures. */
function namesOf({ allowedHosts, publicAddress }: Config): string[] {
  return publicAddress === null
    ? [...allowedHosts]
    : [...allowedHosts, new URL(publicAddress).hostname];
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

  const kept = new KeptAnswers();
  const book = new Book();
  const binder = parts.binder ?? createBinder();
  const planner = parts.planner ?? createPlanner();
  const packets = new Packets(parts.teamId, { renderer: parts.renderer, binder });

  await app.register(problemDetails);
  await app.register(ownSite, { allowedHosts: namesOf(config) });
  await app.register(securityHeaders);
  await app.register(contentTags);
  await app.register(compression);
  await app.register(openApi);
  await app.register(teamScope, parts);
  await app.register(cookies, config);
  await app.register(access);
  await app.register(attempts);
  await app.register(openedLinks);
  await app.register(accessRoutes);
  await app.register(teamRoutes);
  await app.register(songsRoutes, parts);
  await app.register(libraryRoutes, { book });
  await app.register(songFilesRoutes, { book, ...parts });
  await app.register(archiveRoutes, { book, ...parts });
  await app.register(membersRoutes, { ...parts, kept });
  await app.register(arrangementsRoutes);
  await app.register(servicesRoutes);
  await app.register(bestOrderRoutes, { planner });
  await app.register(sheetsRoutes, parts);
  await app.register(pagesRoutes, { ...parts, kept });
  await app.register(personFilesRoutes);
  await app.register(packetsRoutes, { packets });
  await app.register(linksRoutes, {
    listening: config,
    interfaces: parts.interfaces ?? networkInterfaces,
  });
  await app.register(setRoutes);
  await app.register(staticFiles, { webRoot: config.webRoot });
  if (!parts.planner) app.addHook('onClose', () => planner.close());
  if (!parts.binder) app.addHook('onClose', () => binder.close());
  // The first search need not wait for the book. What goes wrong here goes wrong there again, and is told there.
  app.addHook(
    'onListen',
    () => void book.update(parts.store.forTeam(parts.teamId)).catch(() => {}),
  );
  return app;
}
