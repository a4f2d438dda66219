import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { ChordSymbol, WordsAndChords } from '#music';
import { integer, mulberry32, type Chance } from '#test/support/chance.ts';
import { HYMN_FILES } from '#test/support/hymns.ts';

/**
 * Words as printed: the `w:` and `W:` lines of the ABC files of the Open Hymnal Project (public domain), their own
 * hyphens and holds taken out by ABC 2.1, section 5.1; no reader of ours has a hand in it.
 */
const STANZAS: readonly (readonly string[])[] = HYMN_FILES.map((file) => {
  const abc = readFileSync(new URL(`../../seed-data/hymns/${file}`, import.meta.url), 'latin1');
  return [...abc.matchAll(/^[wW]:(.*)$/gm)]
    .map(([, line = '']) =>
      line
        .replace(/\\-/g, '\u0001')
        .replace(/-/g, '')
        .replaceAll('\u0001', '-')
        .replace(/[*_|]/g, ' ')
        .replaceAll('~', ' ')
        .replace(/\s+/g, ' ')
        .replace(/^ *\d+\.\s*/, '')
        .trim(),
    )
    .filter((line) => line !== '');
});

/**
 * Chord symbols met in public-domain lead sheets, each as often as it was met (`tables/chord-symbols.csv`): root, the
 * text that stands there for the kind, bass. Degrees in parentheses are left out: lead sheets set them apart.
 */
const SYMBOLS: readonly string[] = readFileSync(
  new URL('tables/chord-symbols.csv', import.meta.url),
  'utf8',
)
  .split('\n')
  .filter((row) => row !== '' && !row.startsWith('#') && !row.startsWith('root,'))
  .flatMap((row) => {
    const [root = '', kind = '', text = '', degrees = '', bass = '', count = '0'] = row.split(',');
    const isPlain = degrees === '' && kind !== 'none' && (text !== '' || kind === 'major');
    const symbol = `${root}${text}${bass ? `/${bass}` : ''}`;
    return isPlain ? Array.from({ length: Number(count) }, () => symbol) : [];
  });

function chordsOver(line: string, chance: Chance): string {
  const starts = [...line.matchAll(/\S+/g)].map(({ index }) => index);
  let chords = '';
  for (const start of starts) {
    if (chance() > 0.35 && !(chords === '' && start === starts.at(-1))) continue;
    if (chords !== '' && chords.length >= start) continue;
    chords = chords.padEnd(start) + (SYMBOLS[integer(chance, 0, SYMBOLS.length - 1)] ?? 'G');
  }
  return chords;
}

interface Count {
  lines: number;
  right: number;
  wrong: string[];
}

describe('Chords of lead sheets laid over the words of hymns', () => {
  const counts = { chords: { lines: 0, right: 0, wrong: [] }, words: { lines: 0, right: 0, wrong: [] } } as Record<'chords' | 'words', Count>; // prettier-ignore
  const taken = { chords: 0, words: 0 };
  STANZAS.forEach((stanza, n) => {
    const chance = mulberry32(77 + n);
    // A third of the lines stand without chords, as later verses do.
    const typed = stanza.flatMap((words) => {
      const chords = chance() < 2 / 3 ? chordsOver(words, chance) : '';
      return [...(chords ? [['chords', chords] as const] : []), ['words', words] as const];
    });
    const text = ['The Title', '', 'Verse 1', ...typed.map(([, line]) => line)].join('\n');
    const lines = WordsAndChords.lines(text).slice(3);
    typed.forEach(([as, line], i) => {
      const found = lines[i]?.as;
      counts[as].lines += 1;
      if (found === 'chords' || found === 'words') taken[found] += 1;
      if (found === as) counts[as].right += 1;
      else counts[as].wrong.push(`${HYMN_FILES[n] ?? ''}: ${line}`);
    });
  });

  it('are a real test: hundreds of lines, most symbols of the table', () => {
    expect(counts.chords.lines).toBeGreaterThan(300);
    expect(counts.words.lines).toBeGreaterThan(500);
    expect(new Set(SYMBOLS).size).toBeGreaterThan(150);
  });

  it('every line of chords is taken for chords (recall 1), and nothing else is (precision 1)', () => {
    expect(counts.chords.wrong).toEqual([]);
    expect(taken.chords).toBe(counts.chords.lines);
  });

  it('every line of words is taken for words (recall 1), and nothing else is (precision 1)', () => {
    expect(counts.words.wrong).toEqual([]);
    expect(taken.words).toBe(counts.words.lines);
  });

  it('no line of words without chords over it is taken for anything else either', () => {
    for (const [n, stanza] of STANZAS.entries()) {
      const lines = WordsAndChords.lines(['Title', '', 'Verse 1', ...stanza].join('\n')).slice(3);
      expect(lines.filter(({ as }) => as !== 'words').map(({ text }) => text), HYMN_FILES[n]).toEqual([]); // prettier-ignore
    }
  });

  it('every symbol of the table that can be read is read as it is written', () => {
    const unread = [...new Set(SYMBOLS)].filter((symbol) => !ChordSymbol.read(symbol).ok);
    for (const symbol of new Set(SYMBOLS)) {
      if (unread.includes(symbol)) continue;
      const [line] = WordsAndChords.lines(`${symbol}    ${symbol}\nla la la la la la`);
      expect(line?.as, symbol).toBe('chords');
      expect(
        line?.words.map(({ as }) => as),
        symbol,
      ).toEqual(['chords', 'chords']);
    }
    expect(unread.length / new Set(SYMBOLS).size).toBeLessThan(0.05);
  });
});
