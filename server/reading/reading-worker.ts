import { work } from '../threads/work.ts';
import { readFile, readScore, type ReadRequest, type ScoreRequest } from './read-file.ts';

/** Reads what it is sent, in a thread of its own: a file that somebody made to harm must not hold up the server. */
work((request: ReadRequest | ScoreRequest) =>
  'json' in request ? readScore(request) : readFile(request),
);
