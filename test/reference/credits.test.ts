import { describe, expect, it } from 'vitest';
import { Credits } from '#music';
import { hymn } from '#test/support/hymn.ts';
import { HYMN_FILES } from '#test/support/hymns.ts';

/**
 * By hand from the fields `C:` of the 24 files of the Open Hymnal Project. A year said with “circa” is none; books
 * (“Presbyterian Hymnal”), peoples (“Traditional Irish”), and whoever is named with a doubt (“Attr.”, “Stanzas 1-7”) are nobody.
 */
const NAMED: Readonly<Record<string, readonly string[]>> = {
  Abide: [
    'Words: Henry F. Lyte, 1847',
    'Music: William H. Monk, 1861',
    'Arrangement: William H. Monk, 1861',
  ],
  All_Hail: ['Words: Edward Perronet, 1780', 'Music: Oliver Holden, 1793'],
  All_Praise: ['Words: Thomas Ken', 'Music: Thomas Tallis'],
  Alleluia: ['Words: William Chatterton Dix, 1867', 'Music: Rowland H. Prichard, 1830'],
  Amazing: [
    'Words: John Newton, 1779',
    'Music: James P. Carrell, 1831',
    'Music: David L. Clayton, 1831',
    'Arrangement: Edwin Othello Excell, 1900',
  ],
  Awake: ['Words: Thomas Ken, 1674'],
  Be_Thou: [
    'Translation: Mary Byrne, 1905',
    'Translation: Eleanor Hull, 1912',
    'Arrangement: Mark Hamilton Dewey, 2007',
  ],
  Blessed: [
    'Words: Fanny Crosby, 1873',
    'Music: Phoebe P. Knapp, 1873',
    'Arrangement: Phoebe P. Knapp, 1873',
  ],
  Christ_The: ['Music: Robert Williams, 1817', 'Arrangement: John Roberts, 1837'],
  Holy: ['Words: Reginald Heber, 1826', 'Music: John Bacchus Dykes, 1861'],
  Hosanna: ['Words: Jeanette Threlfall, 1873'],
  How_Firm: ['Words: John Rippon, 1787', 'Music: Joseph Funk, 1832'],
  I_Know: ['Words: Samuel Medley, 1775', 'Music: John Hatton, 1793'],
  Immortal: ['Words: Walter Chalmers Smith, 1876'],
  Let_All: ['Translation: Gerard Moultrie, 1864'],
  Now_Thank: ['Words: Martin Rinkart', 'Music: Johann Crüger, 1647'],
  O_Come: ['Translation: John Mason Neale, 1851'],
  O_For: [
    'Words: Charles Wesley, 1740',
    'Music: Carl G. Gläser, 1828',
    'Arrangement: Lowell Mason, 1839',
  ],
  O_Little: ['Words: Phillips Brooks, 1867', 'Music: Lewis H. Redner, 1868'],
  Our_God: ['Words: Isaac Watts, 1719', 'Music: William Croft, 1708'],
  Praise: ['Words: Henry F. Lyte, 1834', 'Music: John Goss, 1869'],
  Silent: [
    'Words: Josef Mohr, 1818',
    'Translation: John Freeman Young, 1863',
    'Music: Franz Xaver Gruber, 1818',
  ],
  The_Churchs: ['Words: Samuel John Stone, 1866', 'Music: Samuel Sebastian Wesley, 1864'],
  What_Child: ['Words: William Chatterton Dix, 1865'],
};

describe('People in the credits of the 24 hymns', () => {
  it.each(HYMN_FILES)('%s', (file) => {
    const [, wanted = []] = Object.entries(NAMED).find(([start]) => file.startsWith(start)) ?? [];
    expect(wanted.length).toBeGreaterThan(0);
    const people = Credits.peopleIn(hymn(file).facts.credits);
    expect(people.map(Credits.creditLine)).toEqual(wanted);
  });
});

/** Common practice of hymnals and of programs that write creators. */
describe('Credit lines', () => {
  const people = (line: string) =>
    Credits.peopleIn([line]).map(({ layer, name, born, died, year }) => [layer, name, born, died, year]); // prettier-ignore

  it.each([
    ['Words: John Newton (1725–1807), 1779', [['words', 'John Newton', 1725, 1807, 1779]]],
    [
      'Music: Ludwig van Beethoven (1770-1827)',
      [['tune', 'Ludwig van Beethoven', 1770, 1827, null]],
    ],
    ['Music: J. S. Bach, 1685–1750', [['tune', 'J. S. Bach', 1685, 1750, null]]],
    ['Text: Paul Gerhardt (born 1607)', [['words', 'Paul Gerhardt', 1607, null, null]]],
    ['Satz: Luther (died 1546)', [['arrangement', 'Luther', null, 1546, null]]],
    [
      'Words and music by Ada Lovell, 1901.',
      [
        ['words', 'Ada Lovell', null, null, 1901],
        ['tune', 'Ada Lovell', null, null, 1901],
      ],
    ],
    [
      'Words: Bernard of Clairvaux; Paul Gerhardt, 1656',
      [
        ['words', 'Bernard of Clairvaux', null, null, 1656],
        ['words', 'Paul Gerhardt', null, null, 1656],
      ],
    ],
    ['Arrangement: arr. Tom Reed', [['arrangement', 'Tom Reed', null, null, null]]],
  ])('%s', (line, wanted) => expect(people(line)).toEqual(wanted));

  it.each([
    'Words: anonymous',
    'Words: Luther, 1529',
    'Music: Traditional Irish Melody',
    'Music: Genevan Psalter, 1551',
    'Words: Attr. Dallan Forgaill',
    'Words: John Newton or Isaac Watts',
    'Words: Newton, John',
    'John Newton, 1779',
    'Words: written for this demo, 2026',
  ])('%s: nobody for certain', (line) => expect(people(line)).toEqual([]));
});
