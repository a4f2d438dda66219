import type { Result } from '../result.ts';
import type { Score } from '../score/score.ts';
import { packed } from './musicxml/packed.ts';
import { readScore } from './musicxml/reading/read.ts';
import type { WriteOptions } from './musicxml/write-options.ts';
import { writeScore } from './musicxml/write.ts';

export type { WriteOptions as MusicXmlOptions } from './musicxml/write-options.ts';

/**
 * A score from MusicXML 1.0 to 4.0, partwise or timewise: text, or bytes in UTF-8, UTF-16 or declared Latin-1, or a
 * compressed `.mxl` file. A song comes whole or not at all: what cannot be read for certain is a problem. Warnings whose
 * code begins with `info-` tell what is left out because a song has no place for it, those with `guess-` what was
 * concluded and may be corrected; all others are reservations. Each has its line, and says its bar in words.
 *
 * Entities that a file declares are never expanded, nothing is fetched, and every size is limited
 * (`reading/limits.ts`), so that any input is answered soon and in little memory.
 */
export function read(input: string | Uint8Array): Result<Score> {
  return readScore(input);
}

/**
 * A score as MusicXML 4.0 partwise, valid against the schema of the W3C (musicxml.xsd). Lengths are exact: the
 * divisions are the finest that the score needs. `read` gives the same score back, but for what MusicXML cannot hold:
 *
 * - a note that a bar line cuts, or that no single value says, is written as several that are tied; ties lead to a note
 *   of the same pitch; slurs have both ends; a beam joins two notes shorter than a quarter inside a bar;
 * - a tuplet that its length does not fit is no tuplet, and a length that only a tuplet says becomes one;
 * - a chord found in the voices comes back as one that a person wrote (`ChordAt.guess`); a chord lasts until the next;
 *   the kind `none` is no chord (null);
 * - a repeat's end always has the final line; free meter is counted in quarters; a meter that only goes on is none;
 * - staves are numbered from 1 without gaps; syllables end with the last one that is there; fingers stand on every pitch;
 * - the sentence behind a key's reason, bars that are copies, sections that are copies of voices not written;
 * - spaces at the beginning and end of a text, and what XML 1.0 does not allow (control characters).
 */
export function write(score: Score, options: WriteOptions = {}): string {
  return writeScore(score, options);
}

/** A score, or one already written, as a compressed `.mxl` file. The same score is the same bytes. */
export function compress(score: Score | string, options: WriteOptions = {}): Uint8Array {
  return packed(typeof score === 'string' ? score : writeScore(score, options));
}
