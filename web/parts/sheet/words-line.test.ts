import { describe, expect, it } from 'vitest';
import type { ChordOver } from '#music';
import { leastWidth, mostWidth, wordsOf } from './words-line.ts';

const over = (name: string, sounds: string | null = null): ChordOver => ({ name, sounds });
const piece = (chord: string | null, text: string, goesOn = false) => ({
  chord: chord === null ? null : over(chord),
  text,
  goesOn,
});

/** `G:A|maz` `ing`: chord and text of each fragment, syllables of a word joined by `|`. */
const said = (line: Parameters<typeof wordsOf>[0]) =>
  wordsOf(line).map((word) =>
    word.map(({ chord, text }) => (chord ? `${chord.name}:${text}` : text)).join('|'),
  );

describe('A line of words with chords', () => {
  it('parts between words only: the syllables of a word stay together', () => {
    const pieces = [
      piece(null, 'A', true),
      piece('G', 'maz', true),
      piece('G7', 'ing grace, how'),
      piece('C', 'sweet the'),
      piece('G', 'sound'),
    ];
    expect(said({ pieces })).toEqual([
      'A|G:maz|G7:ing',
      'grace,',
      'how',
      'C:sweet',
      'the',
      'G:sound',
    ]);
  });

  it('keeps chords that stand over no word, each on its own', () => {
    expect(said({ pieces: [piece('D', ''), piece('A7', ''), piece('N.C.', 'Come')] })).toEqual([
      'D:',
      'A7:',
      'N.C.:Come',
    ]);
  });

  it('lets a chord hang over words that are wide enough, and moves them where they are not', () => {
    const pieces = [piece('F♯m7', 'I once was lost'), piece('E', 'a'), piece('A', 'way')];
    const [first, , , , second] = wordsOf({ pieces }).map(([fragment]) => fragment);
    expect([first?.text, first?.hangs]).toEqual(['I', true]);
    expect([second?.text, second?.hangs]).toEqual(['a', false]);
  });

  it('joins a word by a hyphen where a wide chord moves its syllables far apart; a small gap is the chord’s', () => {
    const hyphens = (name: string, text: string) =>
      wordsOf({ pieces: [piece(name, text, true), piece('F', 'men')] })[0]?.map(
        ({ hyphen }) => hyphen,
      );
    expect(hyphens('B♭maj7', 'A')).toEqual([true, false]);
    expect(hyphens('D7', 're')).toEqual([false, false]);
  });

  it('keeps a chord on a held note before the next word, beside the one that is held', () => {
    const held = { ...piece('D7', ''), held: true } as const;
    const words = wordsOf({ pieces: [piece('Em', 'Lord'), held, piece(null, 'of all')] });
    expect(words.map((word) => word.map(({ text }) => text))).toEqual([['Lord', ''], ['of'], ['all']]); // prettier-ignore
    expect(words[0]?.[1]).toMatchObject({ held: true, hangs: false, hyphen: false });
  });

  it('has one hyphen where a syllable is held in its word', () => {
    const held = { ...piece('G', '', true), held: true } as const;
    const [word] = wordsOf({ pieces: [piece('B♭maj7', 'e', true), held, piece('D', 'xile')] });
    expect(word?.map(({ text, hyphen }) => text + (hyphen ? '-' : ''))).toEqual(['e', '-', 'xile']);
  });

  it('keeps the chords of a bar together', () => {
    const pieces = [piece('Dm', ''), piece('F', ''), { ...piece('C7', ''), bar: true } as const];
    expect(said({ pieces })).toEqual(['Dm:|F:', 'C7:']);
  });

  it('counts what a shape sounds into its width', () => {
    expect(mostWidth(over('G', 'A'))).toBeGreaterThan(mostWidth(over('G')) + 0.5);
    expect(mostWidth({ ...over('G'), again: true })).toBeGreaterThan(mostWidth(over('G')) + 0.5);
    expect(leastWidth('wwww')).toBeGreaterThan(leastWidth('iiii'));
  });
});
