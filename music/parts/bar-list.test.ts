import { describe, expect, it } from 'vitest';
import { hymn } from '#test/support/hymn.ts';
import { sayBarsOf } from './bar-list.ts';
import { raised } from './form/raised.ts';

describe('Bars of a song with a verse in another key', () => {
  const song = hymn('Amazing_Grace-New_Britain.abc');
  const last = song.form.length - 1;
  const form = song.form.map((pass, i) => (i === last ? { ...pass, up: 2 } : pass));
  const whole = raised({ ...song, form });
  const bar = (number: number, which: number) => {
    const found = whole.bars.filter((each) => each.number === number)[which];
    return found ? [found] : [];
  };

  it('have the section where a number stands twice', () => {
    const verse = `verse ${song.form[last]?.verse ?? ''}`;
    expect(sayBarsOf(whole, [...bar(12, 1), ...bar(13, 1)])).toBe(`bars 12 and 13 of ${verse}`);
    expect(sayBarsOf(whole, [...bar(2, 0), ...bar(3, 1)])).toBe(
      `bar 2 of verse and bar 3 of ${verse}`,
    );
  });

  it('are numbers alone in a song that is written once', () => {
    expect(
      sayBarsOf(
        song,
        song.bars.filter(({ number }) => number === 2 || number === 3),
      ),
    ).toBe('bars 2 and 3');
  });
});
