import { work } from '../threads/work.ts';
import { readFile } from './read-file.ts';

/** Reads what it is sent, in a thread of its own: a file that somebody made to harm must not hold up the server. */
work(readFile);
