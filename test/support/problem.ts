import { expect } from 'vitest';
import type { Response } from 'supertest';
import { PROBLEMS, type ProblemCode, type ProblemDetails } from '#server/contract/problems.ts';

/** The answer is a problem of that code, whole, in the media type of RFC 9457. */
export function expectProblem(answer: Response, code: ProblemCode): ProblemDetails {
  const { status, title } = PROBLEMS[code];
  const problem = JSON.parse(answer.text) as ProblemDetails;
  expect(answer.status, problem.detail).toBe(status);
  expect(problem).toMatchObject({
    status,
    title,
    code,
    type: `/api/problems/${code}`,
  });
  expect(answer.headers['content-type']).toBe('application/problem+json; charset=utf-8');
  expect(problem.detail, 'a sentence for a person').toMatch(/^[\p{Lu}“0-9].*\.$/u);
  return problem;
}
