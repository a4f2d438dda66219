import type { ArrangedPass, Key } from '#music';
import type { StoredSong } from '../store/songs.store.ts';
import { invalidInput } from './invalid-input.ts';
import { versesOf } from './known-form.ts';
import { Refusal } from './refusal.ts';

function listed(names: readonly string[]): string {
  return names.length < 2
    ? names.join('')
    : `${names.slice(0, -1).join(', ')} and ${names.at(-1) ?? ''}`;
}

/**
 * Refuses a pass through a section or a verse that the song has not.
 * @param field path of the form: `items.2.form`
 */
export function requireForm(
  field: string,
  { score }: Pick<StoredSong, 'score'>,
  form: readonly ArrangedPass[] | null | undefined,
): void {
  const verses = versesOf(score);
  const { title } = score.facts;
  form?.forEach(({ section, verse }, at) => {
    if (!score.sections.some(({ id }) => id === section)) {
      const there = listed(score.sections.map(({ id }) => id));
      throw invalidInput(
        `${field}.${at}.section`,
        `“${title}” has no section “${section}”; it has ${there}.`,
      );
    }
    if (verse !== null && !verses.has(verse)) {
      throw invalidInput(`${field}.${at}.verse`, `“${title}” has no verse ${verse}.`);
    }
  });
}

/** Another key moves a song up or down; it does not turn major into minor. */
export function requireMode({ title, key }: Pick<StoredSong, 'title' | 'key'>, to: Key): void {
  if (to.mode === key.mode) return;
  throw new Refusal(
    'not-possible',
    `“${title}” is ${key.mode}; another key moves it up or down but keeps it so. Nothing was changed.`,
  );
}
