import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { Scripture, type Passage } from '#music';
import { BOOKS, DEUTEROCANONICAL, NEW_TESTAMENT, OLD_TESTAMENT } from './books.ts';

const chapters = (books: readonly { readonly chapters: number }[]): number =>
  books.reduce((sum, each) => sum + each.chapters, 0);

const passages = (text: string) => {
  const read = Scripture.read(text);
  if (!read.ok) throw new Error(`${text}: ${read.problems[0]?.message ?? ''}`);
  return read.value;
};

/** Of a reference to one. */
const passage = (text: string) => {
  const all = passages(text);
  expect(all, text).toHaveLength(1);
  return all[0];
};

/** `Luke 2:8–3:2` */
function say({ book, chapter, from, lastChapter, to }: Passage): string {
  const begin = [chapter, from].filter((each) => each !== null).join(':');
  const end = [lastChapter, to].filter((each) => each !== null).join(':');
  return `${book} ${begin}${end === '' ? '' : `–${end}`}`;
}

const refused = (text: string) => {
  const read = Scripture.read(text);
  if (read.ok) throw new Error(`${text} was read`);
  return read.problems[0];
};

describe('the books of the Bible', () => {
  // The totals of the Authorized Version, as printed in its tables of contents: 39 books of 929 chapters, 27 of 260,
  // 1,189 in all.
  it('add up to 929 chapters in 39 books and 260 in 27', () => {
    expect([OLD_TESTAMENT.length, chapters(OLD_TESTAMENT)]).toEqual([39, 929]);
    expect([NEW_TESTAMENT.length, chapters(NEW_TESTAMENT)]).toEqual([27, 260]);
  });

  // Totals of parts (Authorized Version): the Law 187 chapters, the four Gospels 89, the letters of Paul without
  // Hebrews 87, the twelve minor prophets 67.
  it('add up to the totals of their parts', () => {
    expect(chapters(OLD_TESTAMENT.slice(0, 5))).toBe(187);
    expect(chapters(NEW_TESTAMENT.slice(0, 4))).toBe(89);
    expect(chapters(NEW_TESTAMENT.slice(5, 18))).toBe(87);
    expect(chapters(OLD_TESTAMENT.slice(-12))).toBe(67);
  });

  it('are read by their whole names and by every short one, each its own', () => {
    const short = BOOKS.flatMap(({ short: list }) => list);
    expect(new Set(short).size).toBe(short.length);
    for (const { name, short: list } of BOOKS) {
      for (const each of [name, name.toUpperCase(), ...list])
        expect(passage(each)?.book).toBe(name);
    }
    expect(DEUTEROCANONICAL.length).toBeGreaterThan(15);
  });

  it('are read with every chapter they have and no other', () => {
    for (const { name, chapters: count } of BOOKS) {
      for (let chapter = 1; chapter <= count; chapter += 1) {
        expect(passage(`${name} ${chapter}:1`)).toMatchObject({
          book: name,
          chapter,
          from: 1,
          to: null,
        });
      }
      expect(refused(`${name} ${count + 1}:1`)?.code).toBe('no-such-chapter');
      expect(refused(`${name} 0:1`)?.code).toBe('no-such-chapter');
    }
  });
});

describe('a place of the Bible as people write it', () => {
  it.each([
    ['Psalm 23:1–6', 'Psalms', 23, 1, 6],
    ['Ps 23', 'Psalms', 23, null, null],
    ['ps. 100', 'Psalms', 100, null, null],
    ['1 Cor 13:4-7', '1 Corinthians', 13, 4, 7],
    ['1Cor13:4', '1 Corinthians', 13, 4, null],
    ['I Corinthians 13', '1 Corinthians', 13, null, null],
    ['First John 4:19', '1 John', 4, 19, null],
    ['2nd Kings 2, 11', '2 Kings', 2, 11, null],
    ['Rev. 4.8', 'Revelation', 4, 8, null],
    ['Song of Solomon 2:1', 'Song of Songs', 2, 1, null],
    ['Jude 24–25', 'Jude', 1, 24, 25],
    ['Isa 6', 'Isaiah', 6, null, null],
    ['Sir 50:22', 'Sirach', 50, 22, null],
    ['John 3:16b', 'John', 3, 16, null],
  ])('%s', (text, book, chapter, from, to) => {
    expect(passage(text)).toEqual({ book, chapter, from, lastChapter: null, to });
  });

  // Lists and ranges as the indexes of hymnals print them (from memory), and with a comma as other countries do.
  it.each([
    ['John 3:16, 18', ['John 3:16', 'John 3:18']],
    ['John 3:16–17, 19-21', ['John 3:16–17', 'John 3:19–21']],
    ['John 3:16 and 18', ['John 3:16', 'John 3:18']],
    ['John 3.16, 18', ['John 3:16', 'John 3:18']],
    ['John 3,16.18', ['John 3:16', 'John 3:18']],
    ['John 3:16; 4:1', ['John 3:16', 'John 4:1']],
    ['Psalm 23; 24', ['Psalms 23', 'Psalms 24']],
    ['Psalms 23 & 24', ['Psalms 23', 'Psalms 24']],
    ['Psalm 23; 100:1-5; Rev 4:8', ['Psalms 23', 'Psalms 100:1–5', 'Revelation 4:8']],
    ['1 John 4:7; 2 Kings 2', ['1 John 4:7', '2 Kings 2']],
    ['Luke 2:8-3:2', ['Luke 2:8–3:2']],
    ['Luke 2:8–3:2, 21', ['Luke 2:8–3:2', 'Luke 3:21']],
    ['Isaiah 52:13–53:12', ['Isaiah 52:13–53:12']],
    ['Isaiah 52:13, 53:4-5', ['Isaiah 52:13', 'Isaiah 53:4–5']],
    ['John 3:16–3:18', ['John 3:16–18']],
    ['Ps 1–3', ['Psalms 1–3']],
    ['Jude 3, 24–25', ['Jude 1:3', 'Jude 1:24–25']],
    ['Jude 1:3, 24', ['Jude 1:3', 'Jude 1:24']],
    ['Psalm 23;', ['Psalms 23']],
  ])('%s', (text, said) => {
    expect(passages(text).map(say)).toEqual(said);
  });

  it('is never read in part: every number that is written stands in a passage', () => {
    const number = fc.integer({ min: 1, max: 16 });
    const marks = fc.constantFrom(':', ', ', '–', '; ', '-', '.', ',', ' & ', ' ');
    fc.assert(
      fc.property(number, fc.array(fc.tuple(marks, number), { maxLength: 6 }), (first, rest) => {
        const text = `Mark ${first}${rest.map(([mark, each]) => `${mark}${each}`).join('')}`;
        const read = Scripture.read(text);
        if (!read.ok) return;
        const there = read.value.flatMap(({ chapter, from, lastChapter, to }) => [chapter, from, lastChapter, to]); // prettier-ignore
        for (const each of [first, ...rest.map(([, other]) => other)]) expect(there, text).toContain(each); // prettier-ignore
      }),
      { numRuns: 2000 },
    );
  });

  it.each([
    'John 3:16,',
    'Psalm 23, 24, 25',
    'John 3:16ff',
    'John 3:16, 18x',
    'John 3:16 18',
    'Psalm 23, John 10',
  ])(
    // prettier-ignore
    '%s is not understood, and nothing of it is kept',
    (text) => {
      expect(refused(text)?.code).toBe('unreadable-place');
    },
  );

  it.each([
    ['Psalm 151', 'Psalms are 150; there is no 151.'],
    ['Psalm 152', 'Psalms are 150; there is no 152.'],
    ['Jude 2:1', 'Jude has one chapter; there is no 2.'],
    ['Jude 26', 'Jude has one chapter of 25 verses; there is no 26.'],
    ['Mark 17', 'Mark has 16 chapters; there is no 17.'],
    ['John 3:16-1', '“John 3:16-1” ends before it begins.'],
    ['Gensis 1', '“Gensis” is no book of the Bible that is known here. Perhaps Genesis is meant.'],
    ['Luke 2:8-1:2', '“Luke 2:8-1:2” ends before it begins.'],
    ['John 3:16; 22', 'John has 21 chapters; there is no 22.'],
    [
      'Xylophone 3',
      '“Xylophone” is no book of the Bible that is known here. One is written like Psalm 23 or 1 Cor 13:4–7.',
    ],
    [
      'John three',
      '“John three” is no book of the Bible that is known here. One is written like Psalm 23 or 1 Cor 13:4–7.',
    ],
    ['Psalm 23:x', '“23:x” is no chapter and verse; they are written like 13:4–7.'],
    [
      '',
      '“” is no book of the Bible that is known here. One is written like Psalm 23 or 1 Cor 13:4–7.',
    ],
  ])('%s is answered with what there is', (text, message) => {
    expect(refused(text)?.message).toBe(message);
  });
});
