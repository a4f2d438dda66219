import { describe, expect, it } from 'vitest';
import { buildScore } from '#test/support/score-builder.ts';
import * as Form from './form.ts';
import { QUARTER, type Bar, type Score, type Section } from './score.ts';

/** Bars of one quarter each; signs by bar: `|:` and `:|` repeats, `1` `2` `12` endings. */
function song(signs: string, sections?: readonly [string, number, number][], form?: string): Score {
  const marks = signs.split(' ');
  const plain = buildScore({
    key: 'C major',
    meter: '1/4',
    voices: { tune: marks.map(() => 'C4').join(' ') },
  });
  const bars = plain.bars.map((bar, i): Bar => {
    const mark = marks[i] ?? '';
    return {
      ...bar,
      repeatStart: mark.includes('|:'),
      repeatEnd: mark.includes(':|'),
      endings: [...mark.matchAll(/\d/g)].map((digit) => Number(digit[0])),
    };
  });
  const named = (sections ?? [['verse', 0, marks.length]]).map(([id, from, to]): Section => ({
    id,
    kind: id === 'verse' ? 'verse' : 'refrain',
    name: id === 'verse' ? 'Verse' : 'Refrain',
    from: from * QUARTER,
    to: to * QUARTER,
  }));
  const passes = (form ?? 'verse').split(' ').map((each) => {
    const [section = '', verse] = each.split(':');
    return { section, verse: verse === undefined ? null : Number(verse) };
  });
  return { ...plain, bars, sections: named, form: passes };
}

/** The bars in the order they are played, by number. */
function played(score: Score): string {
  return Form.unfold(score)
    .map(({ from, to }) =>
      score.bars
        .filter((bar) => bar.at >= from && bar.at < to)
        .map((bar) => bar.number)
        .join(''),
    )
    .join(' ');
}

describe('What is played, in order', () => {
  it.each([
    ['no repeat', '- - -', '123'],
    ['a repeat of everything', '- - :|', '123 123'],
    ['a repeat from its sign', '- |: - :| -', '1234 234 5'],
    ['two repeats', '|: :| |: :|', '12 12 34 34'],
    ['endings', '- - 1:| 2 -', '123 12 4 5'],
    ['three endings, the first for two rounds', '- 12:| 3', '12 12 1 3'],
    // What a player does at numbered endings (common practice), worked out by hand.
    ['three endings', '- |: - 1:| 2:| 3 -', '1234 23 5 23 6 7'],
    ['an ending for the first and third round, another between', '- 13:| 2:| -', '12 1 3 12 4'],
    ['four endings', '- 1:| 2:| 3:| 4', '12 1 3 1 4 1 5'],
    ['endings of two bars', '- 1 1:| 2 2 -', '123 1 45 6'],
    ['a repeat that goes back to the last one’s end', '- :| - :|', '12 12 34 34'],
  ])('%s: %s', (_what, signs, order) => {
    expect(played(song(signs))).toBe(order);
  });

  it('follows the form over the sections, verse by verse', () => {
    const verses = song(
      '- - -',
      [
        ['verse', 0, 2],
        ['refrain', 2, 3],
      ],
      'verse:1 refrain verse:2 refrain',
    );
    expect(played(verses)).toBe('12 3 12 3');
    const stretches = Form.unfold(verses);
    expect(stretches.map(({ playedAt }) => playedAt / QUARTER)).toEqual([0, 2, 3, 5]);
    expect(stretches.map(({ pass }) => pass.verse)).toEqual([1, null, 2, null]);
    expect(Form.passesOf(verses).map(({ name }) => name)).toEqual([
      'Verse 1',
      'Refrain',
      'Verse 2',
      'Refrain',
    ]);
  });

  it('gives each verse its ending where there are as many endings as verses', () => {
    expect(played(song('- - 1:| 2', [['verse', 0, 4]], 'verse:1 verse:2'))).toBe('123 12 4');
  });

  it('gives three verses their endings, one of them shared', () => {
    const sections: [string, number, number][] = [['verse', 0, 4]];
    expect(played(song('- 1:| 2:| 3', sections, 'verse:1 verse:2 verse:3'))).toBe('12 1 3 1 4');
    expect(played(song('- - 13:| 2', sections, 'verse:1 verse:2 verse:3'))).toBe('123 12 4 123');
  });

  it('plays a song without a form once through', () => {
    expect(played({ ...song('- -'), form: [] })).toBe('12');
  });

  it('refuses a form that names a section it has not', () => {
    expect(() => Form.unfold(song('- -', [['verse', 0, 2]], 'bridge'))).toThrow(
      'the form names a section bridge',
    );
  });
});
