import { isIP } from 'node:net';
import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import plugin from 'fastify-plugin';
import { sendProblem } from './problem-details.ts';

export interface OwnSiteOptions {
  /** Names beside localhost that the app answers to, lower case. */
  readonly allowedHosts: readonly string[];
}

const SAFE = new Set(['GET', 'HEAD', 'OPTIONS']);

/** `[::1]:3000` → `::1`, `LOCALHOST.:3000` → `localhost`. */
function nameOf(host: string): string {
  const name = host.startsWith('[') ? host.slice(1).split(']')[0] : host.split(':')[0];
  return (name ?? '').toLowerCase().replace(/\.$/, '');
}

/**
 * A page elsewhere can point a name of its own at this machine and then read as if it were us (DNS rebinding). It
 * cannot do so with an address in figures or with localhost.
 */
function isOurs(host: string, allowed: readonly string[]): boolean {
  const name = nameOf(host);
  if (name === 'localhost' || name.endsWith('.localhost') || isIP(name) !== 0) return true;
  return allowed.includes(name);
}

/** Whether a page of another origin is behind a request (Fetch standard: Origin; Fetch Metadata: Sec-Fetch-Site). */
function isForeign({ headers }: FastifyRequest): boolean {
  const site = headers['sec-fetch-site'];
  if (site !== undefined && site !== 'same-origin' && site !== 'none') return true;
  const { origin, host } = headers;
  if (origin === undefined) return false;
  return !URL.canParse(origin) || new URL(origin).host !== host?.toLowerCase();
}

/** A browser on this machine needs no passphrase at first, so no other web page may write here or read under a false name. */
export const ownSite = plugin(
  async (app: FastifyInstance, { allowedHosts }: OwnSiteOptions) => {
    app.addHook('onRequest', async (request: FastifyRequest, reply: FastifyReply) => {
      const host = request.headers.host ?? '';
      if (!isOurs(host, allowedHosts)) {
        const detail = `This app does not answer to the name ${nameOf(host)}. Open it at localhost, or set ALLOWED_HOSTS.`;
        return sendProblem(reply, 'unknown-host', detail);
      }
      if (!SAFE.has(request.method) && isForeign(request)) {
        const detail = 'Changes are taken only from the app’s own pages. Nothing was changed.';
        return sendProblem(reply, 'cross-site', detail);
      }
      return undefined;
    });
  },
  { name: 'own-site', dependencies: ['problem-details'] },
);
