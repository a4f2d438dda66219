import { Scripture } from '#music';
import type { SongDetails } from '../contract/library.ts';
import { invalidInput } from './invalid-input.ts';
import { Refusal } from './refusal.ts';

/** Places of the Bible that exist, and a reason wherever something is said to be in the public domain. */
export function requireDetails({ scripture, rights }: SongDetails): void {
  const problems = scripture.flatMap((text, at) => {
    const read = Scripture.read(text);
    if (read.ok) return [];
    return read.problems.map((problem) => ({ ...problem, field: `details.scripture.${at}` }));
  });
  if (problems[0]) {
    throw new Refusal('no-such-scripture', `${problems[0].message} Nothing was changed.`, {
      problems,
    });
  }
  rights.forEach(({ layer, status, reason }, at) => {
    const twice = rights.findIndex((other) => other.layer === layer);
    if (twice !== at) {
      const message = `The rights of the ${layer} are said twice.`;
      throw invalidInput(`details.rights.${at}.layer`, message);
    }
    if (status !== 'public domain' || reason !== '') return;
    const message = `Say why the ${layer} ${layer === 'words' ? 'are' : 'is'} thought to be in the public domain, such as the year of the first printing.`;
    throw invalidInput(`details.rights.${at}.reason`, message, 'reason-missing');
  });
}
