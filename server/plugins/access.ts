import type { FastifyInstance, FastifyRequest, RouteOptions } from 'fastify';
import plugin from 'fastify-plugin';
import type { Access } from '../contract/access.ts';
import { PROBLEMS, ProblemDetails, type ProblemCode } from '../contract/problems.ts';
import { findAccess, shutOut, type FoundAccess } from '../services/find-access.ts';
import { leaderSecret } from './cookies.ts';

export interface ReachableRoute {
  readonly method: 'GET' | 'POST' | 'PUT' | 'DELETE';
  /** As the route is declared. */
  readonly url: string;
  readonly why: string;
}

/**
 * Everything that may be reached without the passphrase, and from other machines where none is set. What is not listed
 * here is refused: a new route is shut until somebody writes down why it need not be.
 */
export const REACHABLE_WITHOUT_PASSPHRASE: readonly ReachableRoute[] = [
  { method: 'GET', url: '/*', why: 'the app itself, the same for everybody; it holds no data' },
  { method: 'GET', url: '/api/health', why: 'says “ok” and nothing of the team' },
  { method: 'GET', url: '/api/openapi.json', why: 'what the program can do, not what it holds' },
  { method: 'GET', url: '/api/problems/:code', why: 'explains a refusal to whoever got one' },
  { method: 'GET', url: '/api/access', why: 'whether to ask for the passphrase' },
  { method: 'POST', url: '/api/access/session', why: 'the door; attempts are limited' },
  { method: 'DELETE', url: '/api/access/session', why: 'leaving needs no leave' },
  { method: 'POST', url: '/api/set/:link/session', why: 'asks for the secret of the set link' },
  { method: 'DELETE', url: '/api/set/:link/session', why: 'leaving needs no leave' },
  { method: 'GET', url: '/api/set/:link', why: 'asks for the cookie of the set link' },
  { method: 'GET', url: '/api/set/:link/pages/:member', why: 'asks for the cookie of the link' },
  { method: 'GET', url: '/api/set/:link/pages/:member/parts', why: 'asks for that cookie too' },
  { method: 'GET', url: '/api/set/:link/pages/:member/files', why: 'asks for that cookie too' },
  { method: 'GET', url: '/api/set/:link/packets/:member', why: 'asks for that cookie too' },
  { method: 'PUT', url: '/api/set/:link/people/:member/range', why: 'asks for that cookie too' },
];

const REACHABLE = new Set(
  REACHABLE_WITHOUT_PASSPHRASE.map(({ method, url }) => `${method} ${url}`),
);

function isListed(method: string, url: string): boolean {
  return REACHABLE.has(`${method === 'HEAD' ? 'GET' : method} ${url}`);
}

/** An address without a route of its own is a place inside the app, unless it is one of the API. */
function isReachable({ is404, method, url, routeOptions }: FastifyRequest): boolean {
  if (!is404) return isListed(method, routeOptions.url ?? '');
  const path = url.split('?')[0] ?? '';
  return path !== '/api' && !path.startsWith('/api/') && isListed(method, '/*');
}

const LOOPBACK = /^(127\.|::1$|::ffff:127\.)/;
/** Whoever passes a request on says so in one of these (RFC 7239; RFC 9110, 7.6.3; the rest is common practice). */
const PASSED_ON = ['forwarded', 'via', 'x-forwarded-for', 'x-forwarded-host', 'x-real-ip'];

/** The browser runs on this machine: its request comes from here, and nobody says to have passed it on. */
export function isHere({ socket, headers, server }: FastifyRequest): boolean {
  if (!LOOPBACK.test(socket.remoteAddress ?? '')) return false;
  if (PASSED_ON.some((name) => headers[name] !== undefined)) return false;
  const { publicAddress } = server;
  return publicAddress === null || new URL(publicAddress).host !== headers.host?.toLowerCase();
}

/** How the leader's side stands to whoever asks. */
export async function accessOf(request: FastifyRequest): Promise<Access> {
  return (await ask(request)).access;
}

function ask(request: FastifyRequest): Promise<FoundAccess> {
  return findAccess(request.team, leaderSecret(request), isHere(request));
}

type Responses = Readonly<Record<number, { readonly description: string }>>;

/** What the hook below may answer belongs to the description of each route that it guards. */
function describeRefusals(route: RouteOptions): void {
  const { schema, method, url } = route;
  const response = schema?.response as Responses | undefined;
  if (!response || response[401] || isListed([method].flat()[0] ?? '', url)) return;
  const content = { 'application/problem+json': { schema: ProblemDetails } };
  const described = (code: ProblemCode) => {
    const { status, title } = PROBLEMS[code];
    const before = response[status] ? `${response[status].description}; ` : '';
    return { [status]: { description: `${before}${title} (${code})`, content } };
  };
  const refusals = { ...described('not-signed-in'), ...described('only-this-machine') };
  route.schema = { ...schema, response: { ...response, ...refusals } };
}

/** Shuts the leader's side: to other machines until there is a passphrase, and from then on to whoever did not say it. */
export const access = plugin(
  async (app: FastifyInstance) => {
    app.addHook('onRoute', describeRefusals);
    app.addHook('onRequest', async (request) => {
      if (isReachable(request)) return;
      const { access: found, stamp } = await ask(request);
      if (!found.may) throw shutOut(found);
      request.stamp = stamp;
    });
  },
  { name: 'access', dependencies: ['cookies', 'team-scope', 'problem-details'] },
);
