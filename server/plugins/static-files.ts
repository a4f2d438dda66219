import { existsSync } from 'node:fs';
import { join } from 'node:path';
import serve from '@fastify/static';
import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import plugin from 'fastify-plugin';
import { sendProblem } from './problem-details.ts';

export interface StaticFilesOptions {
  /** Folder of the built web app; null, or without an index.html: only the API is served. */
  readonly webRoot: string | null;
}

const YEAR = 'public, max-age=31536000, immutable';

/** A place inside the app, which the page itself finds: not the API, not a file. */
function isPage({ method, url }: FastifyRequest): boolean {
  const path = url.split('?')[0] ?? '';
  if (method !== 'GET' && method !== 'HEAD') return false;
  return path !== '/api' && !path.startsWith('/api/') && !/\.[^/]*$/.test(path);
}

/** The web app, with an answer for every address: a file, the app's page, or a 404 that says so. */
export const staticFiles = plugin(
  async (app: FastifyInstance, { webRoot }: StaticFilesOptions) => {
    const root = webRoot && existsSync(join(webRoot, 'index.html')) ? webRoot : null;
    if (root) {
      await app.register(serve, {
        root,
        preCompressed: true,
        cacheControl: false,
        setHeaders(response, path) {
          // Built files carry a hash of their content in their names.
          const built = path.startsWith(join(root, 'assets'));
          response.setHeader('cache-control', built ? YEAR : 'no-cache');
        },
      });
    }
    app.setNotFoundHandler((request: FastifyRequest, reply: FastifyReply) => {
      if (root && isPage(request)) return reply.sendFile('index.html');
      const detail = `There is nothing at ${request.method} ${request.url.split('?')[0] ?? ''}.`;
      return sendProblem(reply, 'not-found', detail);
    });
  },
  { name: 'static-files', dependencies: ['problem-details'] },
);
