import { promisify } from 'node:util';
import { brotliCompress, constants, gzip } from 'node:zlib';
import type { FastifyInstance } from 'fastify';
import plugin from 'fastify-plugin';

/** Under this many bytes the headers weigh more than what is saved. */
const WORTHWHILE = 1024;
const TEXT = /^(?:application\/(?:[\w.+-]*json|[\w.+-]*xml)|text\/|image\/svg)/;

const brotli = promisify(brotliCompress);
const zip = promisify(gzip);

/** Text answers travel compressed: engraved music shrinks to a fifth. Files are compressed when they are built. */
export const compression = plugin(
  async (app: FastifyInstance) => {
    app.addHook('onSend', async (request, reply, payload) => {
      if (typeof payload !== 'string' || payload.length < WORTHWHILE) return payload;
      if (reply.hasHeader('content-encoding')) return payload;
      if (!TEXT.test(String(reply.getHeader('content-type') ?? ''))) return payload;
      reply.header('vary', 'accept-encoding');
      const accepted = String(request.headers['accept-encoding'] ?? '');
      const encoding = /\bbr\b/.test(accepted) ? 'br' : /\bgzip\b/.test(accepted) ? 'gzip' : null;
      if (!encoding) return payload;
      reply.header('content-encoding', encoding).removeHeader('content-length');
      if (encoding === 'gzip') return zip(payload);
      return brotli(payload, { params: { [constants.BROTLI_PARAM_QUALITY]: 5 } });
    });
  },
  { name: 'compression' },
);
