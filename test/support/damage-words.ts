import type { Outcome } from '#test/support/damage.ts';
import { integer, pick, type Chance } from '#test/support/chance.ts';

export interface WordsDamage {
  readonly what: string;
  readonly outcome: Outcome;
  readonly make: (text: string, chance: Chance) => string;
}

/** A line that holds only chords, as `WordsAndChords.write` puts them, and is not the one over it. */
const isChords = (line: string): boolean =>
  /^ *([A-G](m|maj|dim|aug|sus|add|\d|[()#b,/A-G+-])*( +|$))+$/.test(line) && line.trim() !== '';

/** Changes one line of chords. */
function inChords(change: (line: string, chance: Chance) => string) {
  return (text: string, chance: Chance): string => {
    const lines = text.split('\n');
    const at = pick(chance, lines.flatMap((line, i) => (isChords(line) ? [i] : []))); // prettier-ignore
    lines[at] = change(lines[at] ?? '', chance);
    return lines.join('\n');
  };
}

/** Changes one line of words: one right under a line of chords. */
function inWords(change: (line: string, chance: Chance) => string) {
  return (text: string, chance: Chance): string => {
    const lines = text.split('\n');
    const under = lines.flatMap((_, i) => (i > 0 && isChords(lines[i - 1] ?? '') ? [i] : []));
    const at = pick(chance, under);
    lines[at] = change(lines[at] ?? '', chance);
    return lines.join('\n');
  };
}

function after(line: string, chance: Chance, put: string): string {
  const at = integer(chance, 0, line.length);
  return line.slice(0, at) + put + line.slice(at);
}

export const WORDS_DAMAGES: readonly WordsDamage[] = [
  { what: 'nothing in it', outcome: 'refused', make: () => '' },
  { what: 'only spaces and line ends', outcome: 'refused', make: () => ' \n\t\n \r\n' },
  { what: 'only the lines over the song', outcome: 'refused', make: (text) => text.slice(0, text.indexOf('\n\n')) }, // prettier-ignore
  { what: 'every line end lost', outcome: 'refused', make: (text) => text.replaceAll('\n', ' ') },
  {
    what: 'the whole song a thousand times',
    outcome: 'refused',
    make: (text) => text.repeat(1000),
  },
  { what: 'one word of seventy thousand letters', outcome: 'refused', make: inWords((line) => line + 'a'.repeat(70_000)) }, // prettier-ignore
  { what: 'seventy thousand bar lines', outcome: 'refused', make: inChords((line) => line + '|'.repeat(70_000)) }, // prettier-ignore
  { what: 'three thousand headings', outcome: 'refused', make: (text) => text + 'Verse 1\nla\n'.repeat(3000) }, // prettier-ignore
  { what: 'four hundred sections of one line', outcome: 'refused', make: (text) => text + Array.from({ length: 400 }, (_, i) => `Bridge\nla ${String(i)}\n`).join('') }, // prettier-ignore
  { what: 'a heading that leads nowhere', outcome: 'told', make: (text) => `${text}\nInterlude\n` },
  { what: 'a key that is none', outcome: 'told', make: (text) => text.replace(/^Title: .*$/m, '$&\nKey: Q sharp') }, // prettier-ignore
  { what: 'a chord in German', outcome: 'told', make: inChords((line) => `${line}   Hm7`) },
  { what: 'a chord with a figure that is none', outcome: 'told', make: inChords((line) => `${line}   G77`) }, // prettier-ignore
  { what: 'a slash without a bass', outcome: 'told', make: inChords((line) => `${line}   D/`) },
  { what: 'a word among the chords', outcome: 'told', make: inChords((line) => `${line}   softly   G   C   D`) }, // prettier-ignore
  { what: 'chords in brackets among the words', outcome: 'told', make: inWords((line, chance) => after(line, chance, '[G]')) }, // prettier-ignore
  { what: 'a command in braces', outcome: 'told', make: inWords((line, chance) => after(line, chance, '{all}')) }, // prettier-ignore
  { what: 'a NUL character among the words', outcome: 'told', make: inWords((line, chance) => after(line, chance, '\0')) }, // prettier-ignore
  { what: 'half a character', outcome: 'told', make: inWords((line, chance) => after(line, chance, '\uD83D')) }, // prettier-ignore
  { what: 'control characters among the chords', outcome: 'told', make: inChords((line) => `\x1b[31m${line}\x07`) }, // prettier-ignore
  { what: 'a line of dashes', outcome: 'told', make: (text) => `${text}\n----------\n` },
  { what: 'lines that end with CR and LF', outcome: 'same', make: (text) => text.replaceAll('\n', '\r\n') }, // prettier-ignore
  { what: 'lines that end with CR', outcome: 'same', make: (text) => text.replaceAll('\n', '\r') },
  { what: 'a byte order mark', outcome: 'same', make: (text) => `\uFEFF${text}` },
  {
    what: 'spaces after every line',
    outcome: 'same',
    make: (text) => text.replaceAll('\n', '   \n'),
  },
  { what: 'chords two columns too far right', outcome: 'value', make: inChords((line) => `  ${line}`) }, // prettier-ignore
  { what: 'chords far beyond the words', outcome: 'value', make: inChords((line) => ' '.repeat(300) + line) }, // prettier-ignore
  { what: 'tabs for spaces', outcome: 'value', make: (text) => text.replaceAll('  ', '\t') },
  { what: 'every line of chords lost', outcome: 'value', make: (text) => text.split('\n').filter((line) => !isChords(line)).join('\n') }, // prettier-ignore
  { what: 'every line of words lost', outcome: 'value', make: (text) => text.split('\n').filter((line) => isChords(line)).join('\n') }, // prettier-ignore
  {
    what: 'two neighbouring lines swapped',
    outcome: 'value',
    make: (text, chance) => {
      const lines = text.split('\n');
      const at = integer(chance, 0, lines.length - 2);
      const [a = '', b = ''] = lines.slice(at, at + 2);
      return [...lines.slice(0, at), b, a, ...lines.slice(at + 2)].join('\n');
    },
  },
  {
    what: 'all lines in any order',
    outcome: 'value',
    make: (text, chance) => {
      const keyed = text.split('\n').map((line) => ({ line, key: chance() }));
      return keyed
        .sort((a, b) => a.key - b.key)
        .map(({ line }) => line)
        .join('\n');
    },
  },
  {
    what: 'a hole of up to sixty characters',
    outcome: 'value',
    make: (text, chance) => {
      const at = integer(chance, 0, text.length);
      return text.slice(0, at) + text.slice(at + integer(chance, 1, 60));
    },
  },
  {
    what: 'every thirtieth character another one',
    outcome: 'value',
    make: (text, chance) =>
      [...text]
        .map((sign) => (chance() < 1 / 30 ? String.fromCharCode(integer(chance, 1, 0x2fff)) : sign))
        .join(''),
  },
  { what: 'four hundred x2 on one line', outcome: 'value', make: inWords((line) => line + ' x9'.repeat(140)) }, // prettier-ignore
  { what: 'a hundred combining marks on one letter', outcome: 'value', make: inWords((line) => `e${'\u0301'.repeat(100)}${line}`) }, // prettier-ignore
  { what: 'four hundred brackets inside each other', outcome: 'value', make: inWords((line) => '['.repeat(300) + line) }, // prettier-ignore
  { what: 'four hundred underscores', outcome: 'value', make: inWords((line) => '_'.repeat(300) + line) }, // prettier-ignore
  {
    what: 'four hundred colons',
    outcome: 'value',
    make: (text) => `${text}\n\n${':'.repeat(400)}\nla\n`,
  },
  { what: 'a hundred labels over the song', outcome: 'value', make: (text) => `${'Words: a b: c = d: '.repeat(20)}\n`.repeat(100) + text }, // prettier-ignore
];
