import type { FastifyError, FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import plugin from 'fastify-plugin';
import { hasZodFastifySchemaValidationErrors } from 'fastify-type-provider-zod';
import { PROBLEMS, type ProblemCode, type ProblemDetails } from '../contract/problems.ts';
import { Refusal } from '../services/refusal.ts';
import { sayField } from './field-words.ts';

export const PROBLEM_TYPE = 'application/problem+json';

type Extras = Omit<ProblemDetails, 'type' | 'title' | 'status' | 'detail' | 'code'>;

/** Answers with a problem (RFC 9457). */
export function sendProblem(
  reply: FastifyReply,
  code: ProblemCode,
  detail: string,
  extras: Extras = {},
): FastifyReply {
  const { status, title } = PROBLEMS[code];
  const details = { type: `/api/problems/${code}`, title, status, detail, code, ...extras };
  return reply
    .code(status)
    .header('cache-control', 'no-store')
    .type(PROBLEM_TYPE)
    .send(details satisfies ProblemDetails);
}

interface Complaint {
  readonly instancePath: string;
}

function invalidInput(
  reply: FastifyReply,
  { validationContext: where = 'body' }: FastifyError,
  complaints: readonly Complaint[],
): FastifyReply {
  const { body, query, params, headers } = reply.request;
  const sent = { body, querystring: query, params, headers }[where];
  const problems = complaints.map(({ instancePath }) => {
    const path = instancePath.split('/').filter(Boolean);
    return { code: 'invalid-field', field: path.join('.'), message: sayField(where, path, sent) };
  });
  const first = problems[0]?.message ?? 'What was sent does not fit.';
  return sendProblem(reply, 'invalid-input', `${first} Nothing was changed.`, { problems });
}

/** A route may take more than most do. */
function tooLarge({ routeOptions, server }: FastifyRequest): string {
  const limit = routeOptions.bodyLimit ?? server.initialConfig.bodyLimit ?? 0;
  const megabytes = Math.floor(limit / 1024 / 1024);
  return `That is more than ${megabytes === 2 ? 'two' : megabytes} megabytes. Nothing was kept; send a smaller file.`;
}

/** Fastify's own refusals, by status. */
const OWN: Readonly<Record<number, readonly [ProblemCode, (request: FastifyRequest) => string]>> = {
  413: ['too-large', tooLarge],
  415: [
    'wrong-media-type',
    ({ routeOptions }) => {
      const [takes] = (routeOptions.schema as { consumes?: string[] } | undefined)?.consumes ?? [];
      return `Only ${takes ?? 'JSON (application/json)'} is understood here. Nothing was changed.`;
    },
  ],
};

function onError(error: FastifyError, request: FastifyRequest, reply: FastifyReply): FastifyReply {
  if (error instanceof Refusal) {
    const { problems, tunes } = error.facts;
    return sendProblem(reply, error.code, error.message, {
      ...(problems && { problems: [...problems] }),
      ...(tunes && { tunes: [...tunes] }),
    });
  }
  if (hasZodFastifySchemaValidationErrors(error)) {
    return invalidInput(reply, error, error.validation);
  }
  const status = error.statusCode ?? 500;
  const own = OWN[status];
  if (own) return sendProblem(reply, own[0], own[1](request));
  if (status >= 400 && status < 500) {
    const detail =
      'What was sent could not be read: it is cut off or empty. Nothing was changed; send it again.';
    return sendProblem(reply, 'bad-request', detail);
  }
  request.log.error(error);
  const detail = 'The server could not finish this. Nothing was changed; try again.';
  return sendProblem(reply, 'internal-error', detail);
}

/** Every error leaves as problem details; what is inside a failure stays inside. */
export const problemDetails = plugin(
  async (app: FastifyInstance) => {
    app.setErrorHandler(onError);
  },
  { name: 'problem-details' },
);
