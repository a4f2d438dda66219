import type { FastifyError, FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import plugin from 'fastify-plugin';
import { hasZodFastifySchemaValidationErrors } from 'fastify-type-provider-zod';
import { PROBLEMS, type ProblemCode, type ProblemDetails } from '../contract/problems.ts';
import { Refusal } from '../services/refusal.ts';

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

/** What the validator says, as the end of a sentence that begins with the field. */
function words(message: string, keyword: string): string {
  const expected = /^Invalid input: expected (\S+), received (\S+)/.exec(message);
  if (expected?.[2] === 'undefined') return 'is missing';
  if (expected) return `must be of the kind ${expected[1] ?? ''}`;
  const option = /^Invalid (?:option|input): expected (?:one of )?(.+)$/.exec(message);
  if (option) return `must be one of ${(option[1] ?? '').replaceAll('|', ', ')}`;
  const bound = /expected (?:\S+ )+to (?:be|have) (.+)$/.exec(message);
  if (bound)
    return `must be ${bound[1] ?? ''}`.replace('>=', 'at least ').replace('<=', 'at most ');
  return /^[a-z]/.test(message) ? message : `does not fit (${keyword.replaceAll('_', ' ')})`;
}

interface Complaint {
  readonly instancePath: string;
  readonly keyword: string;
  readonly message?: string | undefined;
}

function invalidInput(reply: FastifyReply, complaints: readonly Complaint[]): FastifyReply {
  const problems = complaints.map(({ instancePath, keyword, message = '' }) => {
    const field = instancePath.split('/').filter(Boolean).join('.');
    return {
      code: 'invalid-field',
      field,
      message: `${field ? `The field ${field}` : 'What was sent'} ${words(message, keyword)}.`,
    };
  });
  const first = problems[0]?.message ?? 'What was sent does not fit.';
  return sendProblem(reply, 'invalid-input', `${first} Nothing was changed.`, { problems });
}

/** Fastify's own refusals, by status. */
const OWN: Readonly<Record<number, readonly [ProblemCode, string]>> = {
  413: ['too-large', 'That is more than two megabytes. Nothing was kept; send a smaller file.'],
  415: ['wrong-media-type', 'Only application/json is understood here. Nothing was changed.'],
};

function onError(error: FastifyError, request: FastifyRequest, reply: FastifyReply): FastifyReply {
  if (error instanceof Refusal) {
    const { problems, tunes } = error.facts;
    return sendProblem(reply, error.code, error.message, {
      ...(problems && { problems: [...problems] }),
      ...(tunes && { tunes: [...tunes] }),
    });
  }
  if (hasZodFastifySchemaValidationErrors(error)) return invalidInput(reply, error.validation);
  const status = error.statusCode ?? 500;
  const own = OWN[status];
  if (own) return sendProblem(reply, ...own);
  if (status >= 400 && status < 500) {
    const detail = 'The request is not valid HTTP or JSON. Nothing was changed.';
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
