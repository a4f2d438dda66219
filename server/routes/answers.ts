import { z } from 'zod';
import { PROBLEMS, ProblemDetails, type ProblemCode } from '../contract/problems.ts';

/** What every route may answer. */
const ALWAYS: readonly ProblemCode[] = ['invalid-input', 'unknown-host', 'internal-error'];
const WITH_BODY: readonly ProblemCode[] = [
  'bad-request',
  'cross-site',
  'too-large',
  'wrong-media-type',
];
const WITH_VERSION: readonly ProblemCode[] = ['cross-site', 'stale-version', 'version-required'];

const BY_LINK: readonly ProblemCode[] = [
  'wrong-link',
  'link-ended',
  'link-revoked',
  'no-such-service',
  'no-such-person',
  'too-many-attempts',
];

/** The problems of a route as its response schemas: one for each status, naming the codes. */
export function problems(...codes: readonly ProblemCode[]) {
  const byStatus = new Map<number, ProblemCode[]>();
  for (const code of new Set([...codes, ...ALWAYS])) {
    const { status } = PROBLEMS[code];
    byStatus.set(status, [...(byStatus.get(status) ?? []), code]);
  }
  return Object.fromEntries(
    [...byStatus].map(([status, these]) => [
      status,
      {
        description: these.map((code) => `${PROBLEMS[code].title} (${code})`).join('; '),
        content: { 'application/problem+json': { schema: ProblemDetails } },
      },
    ]),
  );
}

export const bodyProblems = (...codes: readonly ProblemCode[]) => problems(...WITH_BODY, ...codes);
export const changeProblems = (...codes: readonly ProblemCode[]) =>
  problems(...WITH_BODY, ...WITH_VERSION, ...codes);
export const versionProblems = (...codes: readonly ProblemCode[]) =>
  problems(...WITH_VERSION, ...codes);
/** Of what a set link opens for one person. */
export const byLinkProblems = (...codes: readonly ProblemCode[]) => problems(...BY_LINK, ...codes);

/** If-Match is not required here, so that a change without it is answered with 428 and not with 400. */
export const IfMatch = z.object({
  'if-match': z
    .string()
    .optional()
    .meta({ description: 'The ETag of what the change builds on: "v3". 428 without it.' }),
});

export const IfNoneMatch = z.object({
  'if-none-match': z
    .string()
    .optional()
    .meta({ description: 'The ETag of an earlier answer; 304 where it is still the same.' }),
});

export const Nothing = z.undefined().meta({ description: 'Done; nothing to say' });
export const NotModified = z.undefined().meta({ description: 'What you have is still true' });
