/** What the chords of a text are called; `letters` is said by leaving the line out. */
export const NAMES = [
  { words: null, name: 'letters: C, Am7' },
  { words: 'German', name: 'German letters: H, B, a' },
  { words: 'solfège', name: 'do, re, mi' },
  { words: 'numbers', name: 'numbers of the key' },
  { words: 'numbers from 6-', name: 'numbers, minor from 6-' },
  { words: 'numbers from 1-', name: 'numbers, minor from 1-' },
] as const;

export type SaidNames = (typeof NAMES)[number]['words'];

const LINE = /^Chords:[ \t]*(.*)$/m;

/** What the text itself says; null: nothing, or what is not among the choices. */
export function namesIn(text: string): SaidNames {
  const said = LINE.exec(text)?.[1]?.trim().toLowerCase();
  return NAMES.find(({ words }) => words?.toLowerCase() === said)?.words ?? null;
}

/** The text with a line that says so under its title, or without one: it is kept with the song, and read so ever after. */
export function withNames(text: string, words: SaidNames): string {
  if (words === null) return text.replace(/^Chords:.*(\r\n|\n|\r|$)/m, '');
  const line = `Chords: ${words}`;
  if (LINE.test(text)) return text.replace(LINE, line);
  const lines = text.split('\n');
  const title = lines.findIndex((each) => each.trim() !== '');
  return [...lines.slice(0, title + 1), line, ...lines.slice(title + 1)].join('\n');
}
