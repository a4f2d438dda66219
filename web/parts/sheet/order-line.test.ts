import { flushSync, mount, unmount } from 'svelte';
import { afterEach, describe, expect, it } from 'vitest';
import type { OrderLine as Line } from '#music';
import OrderLine from './OrderLine.svelte';

const READING: Line = {
  item: 'a',
  kind: 'reading',
  begins: '10:33',
  minutes: 4,
  title: '',
  key: null,
  lead: 'Tomas',
  form: '',
  tempo: '',
  note: '',
  directions: [],
  onward: '',
};
let shown: object | null = null;

function wordsOf(line: Partial<Line>): string {
  shown = mount(OrderLine, { target: document.body, props: { line: { ...READING, ...line } } });
  flushSync();
  return said();
}

const said = (): string => document.body.textContent.replace(/\s+/g, ' ').trim();

describe('A line of the printed order', () => {
  afterEach(() => {
    if (shown) void unmount(shown);
    shown = null;
  });

  it.each<[string, Partial<Line>, string]>([
    ['without a title is called by its kind, once', {}, '10:33 reading Tomas 4 min'],
    ['that is called by its kind says it once', { title: 'Reading' }, '10:33 Reading Tomas 4 min'],
    ['with a title has its kind beside it', { title: 'Psalm 46' }, '10:33 Psalm 46 reading Tomas 4 min'], // prettier-ignore
    ['that is nothing else has its title alone', { kind: 'other', title: 'Welcome' }, '10:33 Welcome Tomas 4 min'], // prettier-ignore
    [
      'that is a song says who leads the singing',
      { kind: 'song', title: 'Amazing Grace', key: 'F major', lead: 'Ada' },
      '10:33 Amazing Grace F major Ada leads 4 min',
    ],
  ])('%s', (_, line, words) => {
    expect(wordsOf(line)).toBe(words);
  });
});
