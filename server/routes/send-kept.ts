import type { FastifyReply, FastifyRequest } from 'fastify';
import { matches } from '../plugins/versions.ts';
import type { Encoding, KeptAnswer } from '../services/kept-answers.ts';

/** How an answer may travel to whoever asks. */
export function encodingFor({ headers }: FastifyRequest): Encoding {
  const accepted = String(headers['accept-encoding'] ?? '');
  return /\bbr\b/.test(accepted) ? 'br' : /\bgzip\b/.test(accepted) ? 'gzip' : 'identity';
}

/** Sends a kept answer as it is: its bytes are neither written nor compressed again. 304 for whoever has it. */
export function sendKept(
  request: FastifyRequest,
  reply: FastifyReply,
  { bytes, encoding, etag }: KeptAnswer,
): FastifyReply {
  if (!reply.hasHeader('cache-control')) reply.header('cache-control', 'private, no-cache');
  reply.header('etag', etag).header('vary', 'accept-encoding');
  if (matches(request.headers['if-none-match'], etag)) return reply.code(304).send();
  if (encoding !== 'identity') reply.header('content-encoding', encoding);
  return reply.type('application/json; charset=utf-8').send(bytes);
}
