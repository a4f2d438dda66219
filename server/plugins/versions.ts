import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import plugin from 'fastify-plugin';
import { contentTag } from '../services/kept-answers.ts';
import { Refusal } from '../services/refusal.ts';

/** The ETag of a stored thing. */
export function versionTag(version: number): string {
  return `"v${version}"`;
}

/** Says which version an answer is. It is not kept by the browser: the next change must build on what is true. */
export function tag(reply: FastifyReply, version: number): FastifyReply {
  return reply.header('etag', versionTag(version)).header('cache-control', 'no-store');
}

/**
 * The version that a change builds on, from If-Match (RFC 9110, 13.1.1). Refuses a change that names none, so that no
 * edit is lost without a word; a tag that is none of ours matches no version.
 */
export function versionOf(request: FastifyRequest): number {
  const header = request.headers['if-match'];
  if (header === undefined) {
    throw new Refusal(
      'version-required',
      'A change says in If-Match which version it builds on: the ETag of what was read. Nothing was changed.',
    );
  }
  return Number(/^"v(\d{1,9})"$/.exec(header.trim())?.[1] ?? 0);
}

/** Where a version is welcome but not needed: null where none is named. */
export function namedVersionOf(request: FastifyRequest): number | null {
  return request.headers['if-match'] === undefined ? null : versionOf(request);
}

/** Whether who asks has this already (RFC 9110, 13.1.2). */
export function matches(header: string | undefined, etag: string): boolean {
  if (header === undefined) return false;
  const opaque = (text: string) => text.trim().replace(/^W\//, '');
  return header.trim() === '*' || header.split(',').some((each) => opaque(each) === opaque(etag));
}

/** Answers that have no version are told apart by their content; who has the same already gets a 304. */
export const contentTags = plugin(
  async (app: FastifyInstance) => {
    app.addHook('onSend', async (request, reply, payload) => {
      const readable = request.method === 'GET' || request.method === 'HEAD';
      if (!readable || reply.statusCode !== 200 || typeof payload !== 'string') return payload;
      if (!reply.hasHeader('cache-control')) reply.header('cache-control', 'private, no-cache');
      if (reply.hasHeader('etag')) return payload;
      const etag = contentTag(payload);
      reply.header('etag', etag);
      if (!matches(request.headers['if-none-match'], etag)) return payload;
      reply.code(304).removeHeader('content-length');
      return '';
    });
  },
  { name: 'content-tags' },
);
