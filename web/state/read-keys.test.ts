import { beforeEach, describe, expect, it } from 'vitest';
import { PlayedKeys, type Key } from '#music';
import type { Page } from '#server/contract/pages.ts';
import { askedReads, putBack, readKeysOf, storedReads, storeRead } from './read-keys.ts';

const D: Key = { tonic: 'D', mode: 'major' };
const able = { transposeButton: true, capo: 7 } as const;

/** A page of a song that sounds in D, read in `tonic`. */
function page(
  item: string,
  title: string,
  tonic: string | null,
  role: Page['role'] = 'keys',
): Page {
  const played = tonic === null ? null : PlayedKeys.of(D, tonic, able, role);
  const heading = { title, key: 'D major' };
  return { kind: 'staff', item, title, role, played, sheet: { heading } } as unknown as Page;
}

describe('The keys that a song can be read in', () => {
  // D less C is two semitones, D less G seven up or five down; on a guitar G sounds in D at the seventh fret.
  it.each([
    ['keys', null, ['D, as it sounds*', 'C, set +2', 'G, set −5']],
    ['keys', 'C', ['D, as it sounds', 'C, set +2*', 'G, set −5']],
    ['guitar', null, ['D, as it sounds*', 'C, capo 2', 'G, capo 7']],
  ] as const)(
    'of %s that reads in %s are said with the button or the fret',
    (role, tonic, said) => {
      const found = readKeysOf(page('a', 'Song', tonic, role), { a: ['D', 'C', 'G'] });
      expect(found.map(({ words, chosen }) => words + (chosen ? '*' : ''))).toEqual(said);
    },
  );

  it('are no choice for a singer, and where the plan offers none', () => {
    expect(readKeysOf(page('a', 'Song', null, 'lead voice'), { a: ['D', 'C'] })).toEqual([]);
    expect(readKeysOf(page('a', 'Song', null), {})).toEqual([]);
  });
});

describe('A chosen key', () => {
  beforeEach(() => localStorage.clear());

  it('stays on this device, for this person and this item alone', () => {
    storeRead('ines', 'item-1', 'C');
    storeRead('tomas', 'item-1', 'G');
    storeRead('ines', 'item-2', 'Bb');
    expect(storedReads('ines')).toEqual({ 'item-1': 'C', 'item-2': 'Bb' });
    expect(askedReads(storedReads('ines'))).toBe('item-1.C,item-2.Bb');
  });

  it('is not asked for where what is stored is no key', () => {
    localStorage.setItem('partbook.reads', '{"ines item-1":"H2","ines item-2":"C"}');
    expect(storedReads('ines')).toEqual({ 'item-2': 'C' });
    localStorage.setItem('partbook.reads', 'broken');
    expect(storedReads('ines')).toEqual({});
    expect(askedReads({})).toBeNull();
  });
});

describe('What must be put back', () => {
  it('is said before the next song that needs it, and not where the song has a setting of its own', () => {
    const pages = [
      page('a', 'First', 'C'),
      page('b', 'Second', 'G'),
      page('c', 'Third', null, 'lead voice'),
      page('c', 'Third', null),
      page('d', 'Fourth', null),
    ];
    expect(putBack(pages)).toEqual([
      '',
      '',
      '',
      'The keyboard is still at −5 from Second: set it back to 0.',
      '',
    ]);
  });

  it('names the capo of a guitar', () => {
    const pages = [page('a', 'First', 'C', 'guitar'), page('b', 'Second', null, 'guitar')];
    expect(putBack(pages)[1]).toBe('The capo is still at fret 2 from First: take it off.');
  });
});
