import { describe, expect, it } from 'vitest';
import { songOf } from '#test/support/small-abc.ts';
import { makeEngraver } from '#test/support/verovio.ts';
import { engrave } from './engrave.ts';
import type { Engraver } from './engraver.ts';

const engraver = (await makeEngraver()) as unknown as Engraver;
const PAGE = { width: 1180, textScale: 1, verse: 'all' } as const;

describe('A change of tempo on a sheet', () => {
  it('stands over its bar, its note drawn, as no font of a page has it; the heading says the first', () => {
    const song = songOf('CDEF|[Q:3/8=72]GABc|[Q:1/2=50.4]c4|', [], 'M:4/4\nL:1/4\nQ:1/4=100');
    const { systems } = engrave(engraver, { score: song, page: PAGE });
    const drawn = systems.map(({ svg }) => svg).join('');
    expect(drawn).not.toMatch(/[\uE000-\uF8FF]/u);
    const marks = [...drawn.matchAll(/class="tempo".*?<text[^>]*>([^<]*)<\/text>/gs)];
    expect(marks.map(([, words]) => words)).toEqual(['= 72', '= 50']);
    // A dotted quarter: a full head, a stem, a dot. A half: an open head and a stem.
    expect(marks.map(([mark]) => [mark.match(/<ellipse/g)?.length, mark.match(/<path/g)?.length])).toEqual([[2, 1], [1, 1]]); // prettier-ignore
    expect(marks[1]?.[0]).toMatch(/<ellipse[^>]*fill="none"/);
  });
});

describe('The tempo at the start', () => {
  it('is drawn where no heading says it, and over no other bar', () => {
    const song = songOf('CDEF|[Q:3/8=72]GABc|', [], 'M:4/4\nL:1/4\nQ:1/4=100');
    const { systems } = engrave(engraver, { score: song, page: PAGE, opening: true });
    const drawn = systems.map(({ svg }) => svg).join('');
    const marks = [...drawn.matchAll(/class="tempo".*?<text[^>]*>([^<]*)<\/text>/gs)];
    expect(marks.map(([, words]) => words)).toEqual(['= 100', '= 72']);
    const silent = engrave(engraver, {
      score: { ...song, tempo: null },
      page: PAGE,
      opening: true,
    });
    const rest = silent.systems.map(({ svg }) => svg).join('');
    expect(rest.match(/class="tempo"/g)).toHaveLength(1);
  });
});
