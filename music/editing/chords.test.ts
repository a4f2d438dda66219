import { describe, expect, it } from 'vitest';
import { WordsAndChords } from '#music';
import { buildScore } from '#test/support/score-builder.ts';
import { write as writeChord, read as readChord } from '../pitch/chord-symbol.ts';
import type { Chord } from '../pitch/chord.ts';
import { check } from '../score/check-score.ts';
import { QUARTER, type Score } from '../score/score.ts';
import { apply } from './editing.ts';
import type { Edit } from './edit.ts';

function chord(symbol: string): Chord {
  const read = readChord(symbol);
  if (!read.ok) throw new Error(symbol);
  return read.value;
}

const bare = buildScore({
  key: 'G',
  meter: '4/4',
  voices: { tune: 'r:4 | r:4 | r:4 | r:4' },
  chords: [
    [0, chord('G')],
    [4, chord('C')],
  ],
});
const song: Score = {
  ...bare,
  sections: [
    { id: 'verse', kind: 'verse', name: 'Verse', from: 0, to: 8 * QUARTER },
    { id: 'tag', kind: 'tag', name: 'Tag', from: 8 * QUARTER, to: 16 * QUARTER },
  ],
};

function told(edit: Edit, score = song): string {
  const result = apply(score, edit);
  if (!result.ok) return result.problems[0]?.message ?? '';
  return result.value.chords
    .map(({ at, length, chord: each }) => {
      const name = each ? writeChord(each) : 'N.C.';
      return `${name} ${at / QUARTER}+${length / QUARTER}`;
    })
    .join(', ');
}

describe('a chord', () => {
  it('lasts until the next one, and cuts the one before', () => {
    expect(told({ do: 'chord', at: 2 * QUARTER, symbol: 'Am7' })).toBe('G 0+2, Am7 2+2, C 4+12');
    expect(told({ do: 'chord', at: 4 * QUARTER, symbol: 'D/F#' })).toBe('G 0+4, D/F# 4+12');
    expect(told({ do: 'chord', at: 8 * QUARTER, symbol: null })).toBe('G 0+4, C 4+4, N.C. 8+8');
  });

  it('begins anywhere under a note that is held, also between the beats', () => {
    const held = buildScore({ key: 'C', meter: '4/4', voices: { tune: 'C4:4 | r:4' }, chords: [] });
    const one = apply(held, { do: 'chord', at: 0, symbol: 'Am' });
    if (!one.ok) throw new Error('refused');
    expect(told({ do: 'chord', at: 2 * QUARTER, symbol: 'D7' }, one.value)).toBe('Am 0+2, D7 2+6');
    expect(told({ do: 'chord', at: 2.5 * QUARTER, symbol: 'D7' }, one.value)).toBe(
      'Am 0+2.5, D7 2.5+5.5',
    );
    const two = apply(one.value, { do: 'chord', at: 2 * QUARTER, symbol: 'D7' });
    if (!two.ok) throw new Error('refused');
    expect(two.value.voices).toEqual(held.voices);
    expect(check(two.value)).toEqual([]);
    expect(told({ do: 'remove chord', at: 2 * QUARTER }, two.value)).toBe('Am 0+8');
  });

  it('ends before the next one where it is told to, and never before it begins', () => {
    expect(told({ do: 'chord', at: 8 * QUARTER, symbol: 'F', until: 10 * QUARTER })).toBe(
      'G 0+4, C 4+4, F 8+2',
    );
    expect(told({ do: 'chord', at: 0, symbol: 'F', until: 10 * QUARTER })).toBe('F 0+4, C 4+12');
    expect(told({ do: 'chord', at: QUARTER, symbol: 'F', until: QUARTER })).toBe(
      'Bar 1, beat 2: a chord ends after it begins.',
    );
  });

  it('in a song without time ends with its section', () => {
    const untimed: Score = { ...song, untimed: true, chords: [] };
    expect(told({ do: 'chord', at: 4 * QUARTER, symbol: 'F' }, untimed)).toBe('F 4+4');
  });

  it('that is no chord is refused with its place', () => {
    expect(told({ do: 'chord', at: 5 * QUARTER, symbol: 'Hx' })).toMatch(/^Bar 2, beat 2: /);
  });

  it('goes, and the one before lasts on', () => {
    expect(told({ do: 'remove chord', at: 4 * QUARTER })).toBe('G 0+16');
    expect(told({ do: 'remove chord', at: 0 })).toBe('C 4+12');
    expect(told({ do: 'remove chord', at: QUARTER })).toBe('Bar 1, beat 2: no chord begins there.');
  });

  it('stands as in another section, as far as both reach', () => {
    expect(told({ do: 'chords as in', from: 'verse', to: 'tag' })).toBe(
      'G 0+4, C 4+4, G 8+4, C 12+4',
    );
    expect(told({ do: 'chords as in', from: 'verse', to: 'bridge' })).toBe(
      'The song has no such section.',
    );
  });

  it('of a song without time stand line by line over the words of the same place', () => {
    const text = 'Verse 1\nG         C\nLamps along the water\nD        G\nCarry us, home\n\nVerse 2\nBells across the valley below\nCall us\n\nTag\nEm\nHush'; // prettier-ignore
    const read = WordsAndChords.read(text);
    if (!read.ok) throw new Error('not read');
    const result = apply(read.value, { do: 'chords as in', from: 'verse-1', to: 'verse-2' });
    if (!result.ok) throw new Error(result.problems[0]?.message);
    expect(check(result.value)).toEqual([]);
    expect(WordsAndChords.write(result.value)).toContain(
      ['G     C', 'Bells across the valley below', 'D    G', 'Call us'].join('\n'),
    );
    expect(WordsAndChords.write(result.value)).toContain('Em\nHush');
    const none = apply(read.value, { do: 'chords as in', from: 'verse-2', to: 'tag' });
    expect(none.ok ? '' : none.problems[0]?.message).toBe('Verse 2 has no chords that Tag could take.'); // prettier-ignore
  });
});
