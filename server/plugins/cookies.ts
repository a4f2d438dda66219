import cookie from '@fastify/cookie';
import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import plugin from 'fastify-plugin';

/** The browser of a leader who said the passphrase. */
const LEADER = 'partbook-leader';
/** A browser that opened a set link; one for each link, by its path. */
const SET = 'partbook-set';

const DAY = 24 * 60 * 60;
/** A leader is asked again after this many days. */
export const LEADER_DAYS = 30;
/** Longer than services are planned ahead; the link itself ends when it ends. */
const SET_DAYS = 180;

declare module 'fastify' {
  interface FastifyInstance {
    /** Origin that the app is reached at from elsewhere; null: none was set. */
    readonly publicAddress: string | null;
  }
}

/** A cookie that no script reads and no other site sends along (RFC 6265bis: HttpOnly, SameSite). */
function options(request: FastifyRequest, path: string, days: number) {
  return {
    path,
    httpOnly: true,
    sameSite: 'strict' as const,
    secure: cameByTls(request),
    maxAge: days * DAY,
  };
}

/** By TLS to this program, or under the name that is said to be reached by https. */
function cameByTls({ protocol, headers, server }: FastifyRequest): boolean {
  if (protocol === 'https') return true;
  const { publicAddress } = server;
  if (publicAddress === null || !publicAddress.startsWith('https:')) return false;
  return new URL(publicAddress).host === headers.host?.toLowerCase();
}

const setPath = (link: string) => `/api/set/${encodeURIComponent(link)}`;

export function leaderSecret({ cookies }: FastifyRequest): string | null {
  return cookies[LEADER] ?? null;
}

export function giveLeaderCookie(
  request: FastifyRequest,
  reply: FastifyReply,
  secret: string,
): void {
  reply.setCookie(LEADER, secret, options(request, '/', LEADER_DAYS));
}

export function takeLeaderCookie(request: FastifyRequest, reply: FastifyReply): void {
  reply.setCookie(LEADER, '', options(request, '/', 0));
}

export function setSecret({ cookies }: FastifyRequest): string | null {
  return cookies[SET] ?? null;
}

export function giveSetCookie(
  request: FastifyRequest,
  reply: FastifyReply,
  link: string,
  secret: string,
): void {
  reply.setCookie(SET, secret, options(request, setPath(link), SET_DAYS));
}

export function takeSetCookie(request: FastifyRequest, reply: FastifyReply, link: string): void {
  reply.setCookie(SET, '', options(request, setPath(link), 0));
}

export interface CookiesOptions {
  readonly publicAddress: string | null;
}

export const cookies = plugin(
  async (app: FastifyInstance, { publicAddress }: CookiesOptions) => {
    app.decorate('publicAddress', publicAddress);
    await app.register(cookie);
  },
  { name: 'cookies' },
);
