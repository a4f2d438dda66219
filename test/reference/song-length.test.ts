import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { Abc, Lengths, type Score } from '#music';
import { secondsByAbcjs } from '#test/support/abcjs-length.ts';
import { HYMN_FILES } from '#test/support/hymns.ts';

function scoreOf(text: string | Uint8Array): Score {
  const read = Abc.read(text);
  const score = read.ok ? read.value[0] : undefined;
  if (!score) throw new Error('the tune was not read');
  return score;
}

/** One time through every section: what another one adds, so that the introduction falls out. */
function onceThrough(score: Score): number {
  const once = score.sections.map(({ id }) => ({ section: id, verse: null }));
  const secondsOf = (form: typeof once): number => {
    const { seconds } = Lengths.ofSong(score, { tempo: null, form });
    if (seconds === null) throw new Error(`“${score.facts.title}” has no length`);
    return seconds;
  };
  // Three and four: with as many passes as endings, each pass would have its own.
  const three = [...once, ...once, ...once];
  return secondsOf([...three, ...once]) - secondsOf(three);
}

describe('the length of a song, against abcjs playing the same file', () => {
  it.each(HYMN_FILES)('%s', (file) => {
    const bytes = readFileSync(new URL(`../../seed-data/hymns/${file}`, import.meta.url));
    const ours = onceThrough(scoreOf(bytes));
    expect(ours).toBeCloseTo(secondsByAbcjs(bytes.toString('latin1')), 3);
  });

  const head = (meter: string, tempo: string) =>
    `X:1\nT:Small\nM:${meter}\nL:1/8\nQ:${tempo}\nK:C\n`;
  it.each([
    ['a repeat', '3/4', '1/4=100', '|:C2D2E2|F6:|'],
    ['two endings', '3/4', '1/4=90', '|:C2D2E2|1 F6:|2 G6|]'],
    ['a beginning without a sign', '4/4', '1/4=72', 'C2D2E2F2|G8:|C2D2E2F2|G8|]'],
    ['two repeats', '2/2', '1/2=60', '|:C8|D8:|:E8|F8:|'],
    ['dotted beats', '6/8', '3/8=60', '|:CDE CDE|1 F6:|2 G6|]'],
    ['a pickup', '4/4', '1/4=120', 'G2|C2D2E2F2|G6|]'],
    ['a slower end', '4/4', '1/4=120', 'C2D2E2F2|G8|[Q:1/4=60]C2D2E2F2|G8|]'],
    ['a change inside a bar', '4/4', '1/4=100', 'C2D2[Q:1/4=50]E2F2|[Q:1/2=60]G8|]'],
    ['a slower second ending', '3/4', '1/4=90', '|:C2D2E2|1 F6:|2 [Q:1/4=45]G6|]'],
    ['a change at a repeat, back at its start', '4/4', '1/4=120', '|:[Q:1/4=120]C8|[Q:1/4=60]D8:|'],
  ])('%s', (_, meter, tempo, music) => {
    const text = `${head(meter, tempo)}${music}\n`;
    expect(onceThrough(scoreOf(text))).toBeCloseTo(secondsByAbcjs(text), 3);
  });
});
