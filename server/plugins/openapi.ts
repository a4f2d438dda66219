import swagger from '@fastify/swagger';
import type { FastifyInstance } from 'fastify';
import plugin from 'fastify-plugin';
import {
  jsonSchemaTransform,
  jsonSchemaTransformObject,
  serializerCompiler,
  validatorCompiler,
} from 'fastify-type-provider-zod';

/** Routes declare their schemas with Zod; OpenAPI 3.1 comes from the same ones, at /api/openapi.json. */
export const openApi = plugin(
  async (app: FastifyInstance) => {
    app.setValidatorCompiler(validatorCompiler);
    app.setSerializerCompiler(serializerCompiler);
    await app.register(swagger, {
      openapi: {
        openapi: '3.1.0',
        info: {
          title: 'Partbook',
          version: '1',
          description:
            'Songs, singers and keys of a small team, and the pages it plays from. Problems are RFC 9457; a change names the version it builds on in If-Match.',
        },
      },
      transform: jsonSchemaTransform,
      transformObject: jsonSchemaTransformObject,
    });
    app.get('/api/openapi.json', { schema: { hide: true } }, async () => app.swagger());
  },
  { name: 'openapi' },
);
