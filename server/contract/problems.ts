import { z } from 'zod';

/**
 * Every problem this API answers with, by its stable code (RFC 9457: `type` is `/api/problems/<code>`, which can be
 * read there). `title` says the kind; the answer's `detail` says what happened and what to do.
 */
export const PROBLEMS = {
  'bad-request': { status: 400, title: 'The request could not be read' },
  'invalid-input': { status: 400, title: 'Something that was sent does not fit' },
  'not-signed-in': { status: 401, title: 'The leader’s side asks for the passphrase' },
  'wrong-passphrase': { status: 403, title: 'That is not the passphrase' },
  'only-this-machine': { status: 403, title: 'The leader’s side is open only on its own machine' },
  'not-allowed': { status: 403, title: 'This link does not allow that' },
  'wrong-link': { status: 404, title: 'This link opens nothing' },
  'link-ended': { status: 410, title: 'This link has ended' },
  'link-revoked': { status: 410, title: 'This link was taken back' },
  'no-demo': { status: 409, title: 'This team has no demo' },
  'cross-site': { status: 403, title: 'Another web page tried to write here' },
  'unknown-host': { status: 403, title: 'This address is not one that the app answers to' },
  'not-found': { status: 404, title: 'There is nothing here' },
  'no-such-song': { status: 404, title: 'There is no such song' },
  'no-such-member': { status: 404, title: 'There is no such member' },
  'no-such-service': { status: 404, title: 'There is no such service' },
  'no-such-link': { status: 404, title: 'There is no such link' },
  'stale-version': { status: 412, title: 'Someone else changed it in between' },
  'too-large': { status: 413, title: 'That is too large' },
  'wrong-media-type': { status: 415, title: 'That kind of content is not understood' },
  'unreadable-song': { status: 422, title: 'The song could not be read' },
  'no-such-scripture': { status: 422, title: 'The Bible has no such place' },
  'unreadable-notes': { status: 422, title: 'Those are not notes' },
  'broken-score': { status: 422, title: 'That music does not hold together' },
  'unreadable-archive': { status: 422, title: 'The archive could not be read' },
  'reader-busy': { status: 503, title: 'No more files can be read just now' },
  'several-tunes': { status: 422, title: 'The file holds several tunes' },
  'unreadable-key': { status: 422, title: 'That is not a key' },
  'unreadable-chord': { status: 422, title: 'That is not a chord symbol' },
  'no-such-place': { status: 422, title: 'The song has no such place' },
  'no-such-verse': { status: 422, title: 'The song has no such verse' },
  'unknown-member': { status: 422, title: 'A member that was named does not exist' },
  'unknown-song': { status: 422, title: 'A song that was named does not exist' },
  'no-such-person': { status: 404, title: 'Nobody of that name serves there' },
  'not-possible': { status: 422, title: 'That cannot be made from this song' },
  'version-required': { status: 428, title: 'Say which version the change is for' },
  'too-many-attempts': { status: 429, title: 'Too many attempts' },
  'engraver-busy': { status: 503, title: 'The engraver cannot draw this now' },
  'planner-busy': { status: 503, title: 'No order can be worked out just now' },
  'packets-busy': { status: 503, title: 'No packet can be made just now' },
  'internal-error': { status: 500, title: 'Something went wrong on our side' },
} as const satisfies Readonly<Record<string, { status: number; title: string }>>;

export type ProblemCode = keyof typeof PROBLEMS;

/** One thing that is wrong in what was sent, with its place: a field of the input, or a line of a song's text. */
export const SentProblem = z
  .object({
    code: z.string(),
    message: z.string(),
    field: z.string().exactOptional().meta({ description: 'Path of the input: comfortable.low' }),
    line: z.int().exactOptional().meta({ description: '1-based line of the text' }),
    column: z.int().exactOptional().meta({ description: '1-based column of that line' }),
  })
  .meta({ id: 'SentProblem' });
export type SentProblem = z.infer<typeof SentProblem>;

/** RFC 9457. `code` is the last part of `type`. */
export const ProblemDetails = z
  .object({
    type: z.string(),
    title: z.string(),
    status: z.int(),
    detail: z.string().meta({ description: 'What happened and what to do, for a person' }),
    code: z.string(),
    problems: z.array(SentProblem).exactOptional(),
    tunes: z
      .array(z.string())
      .exactOptional()
      .meta({ description: 'several-tunes: their titles, in the order of the file' }),
  })
  .meta({ id: 'ProblemDetails' });
export type ProblemDetails = z.infer<typeof ProblemDetails>;

export const ProblemKind = z
  .object({ code: z.string(), status: z.int(), title: z.string() })
  .meta({ id: 'ProblemKind' });
