import helmet from '@fastify/helmet';
import type { FastifyInstance } from 'fastify';
import plugin from 'fastify-plugin';

/** Device features the app uses or will not let be used in its name. */
const PERMISSIONS =
  'microphone=(self), midi=(self), screen-wake-lock=(self), camera=(), geolocation=()';

export const securityHeaders = plugin(
  async (app: FastifyInstance) => {
    await app.register(helmet, {
      contentSecurityPolicy: {
        useDefaults: false,
        directives: {
          defaultSrc: ["'self'"],
          // The engraver is WebAssembly; it runs in a worker of our own.
          scriptSrc: ["'self'", "'wasm-unsafe-eval'"],
          workerSrc: ["'self'", 'blob:'],
          // Engraved music and drawn keyboards carry style attributes.
          styleSrc: ["'self'", "'unsafe-inline'"],
          imgSrc: ["'self'", 'data:', 'blob:'],
          mediaSrc: ["'self'", 'blob:'],
          fontSrc: ["'self'"],
          connectSrc: ["'self'"],
          objectSrc: ["'none'"],
          baseUri: ["'self'"],
          formAction: ["'self'"],
          frameAncestors: ["'none'"],
        },
      },
      // On this machine the app speaks plain http; whoever puts TLS in front adds this there.
      strictTransportSecurity: false,
    });
    app.addHook('onSend', async (_request, reply) => {
      reply.header('permissions-policy', PERMISSIONS);
      // A team's songs and set links are nobody's search result, should the app ever be found from outside.
      reply.header('x-robots-tag', 'noindex, nofollow');
    });
  },
  { name: 'security-headers' },
);
