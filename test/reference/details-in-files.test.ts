import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  Abc,
  MusicXml,
  NO_DETAILS,
  NotedDetails,
  Reduction,
  WordsAndChords,
  type Author,
  type NotedIn,
  type Score,
  type SongDetails,
} from '#music';
import { SeedTeam } from '#server/launch/seed-team.ts';
import { through } from '#test/support/format-facets.ts';
import { hymn } from '#test/support/hymn.ts';
import { schemaErrors } from '#test/support/musicxml-schema.ts';

const root = new URL('../../seed-data/', import.meta.url);
const plan = SeedTeam.parse(JSON.parse(readFileSync(new URL('team.json', root), 'utf8')));
const described = plan.songs.flatMap(({ file, details }) => (details ? [{ file, details }] : []));

const FORMATS: readonly NotedIn[] = ['musicxml', 'abc', 'words'];
const withDetails = (score: Score, details: SongDetails, as: NotedIn): Score => ({
  ...score,
  facts: NotedDetails.noted(score.facts, details, as),
});
/** Of a file that was taken out: what it says of the song once it is brought again. */
const again = (score: Score, details: SongDetails, as: NotedIn) =>
  NotedDetails.taken(through(as, withDetails(score, details, as)).facts);

describe('What the demo knows of its songs', () => {
  it.each(described)('comes back from every format that has words for it: $file', (song) => {
    const score = hymn(song.file);
    for (const as of FORMATS) {
      const { facts, details } = again(score, song.details, as);
      expect(details, as).toEqual(song.details);
      expect(facts.credits, as).toEqual(as === 'words' ? expect.anything() : score.facts.credits);
      if (as !== 'words') expect(facts.other, as).toEqual(score.facts.other);
    }
  });

  it('leaves a song of which nothing is known as it is', () => {
    const score = hymn('Holy_Holy_Holy-Nicaea.abc');
    for (const as of FORMATS) expect(withDetails(score, NO_DETAILS, as)).toEqual(score);
  });
});

describe('MusicXML with what is known of a song', () => {
  const score = hymn('Amazing_Grace-New_Britain.abc');
  const details = described.find(({ file }) => file.startsWith('Amazing'))?.details ?? NO_DETAILS;
  const xml = MusicXml.write(withDetails(score, details, 'musicxml'));

  /** MusicXML 4.0: `creator` names who, its type says of what; years as catalogues give them. */
  it('names its people without saying again what they did', () => {
    const creators = [...xml.matchAll(/<creator type="(\w+)">([^<]*)</g)].map((each) => each.slice(1)); // prettier-ignore
    expect(creators).toEqual([
      ['lyricist', 'John Newton (1725–1807), 1779'],
      ['composer', 'James P. Carrell (1787–1854)'],
      ['composer', 'David L. Clayton'],
      ['arranger', 'Edwin Othello Excell (1851–1921), 1900'],
    ]);
    expect(xml).toContain('<miscellaneous-field name="scripture">John 9:25; Ephesians 2:4–9<');
    expect(xml).toContain('<miscellaneous-field name="words rights">public domain<');
  });

  /** As other programs write `creator`, with the type that says what of (MusicXML 4.0). */
  it('takes whoever another program names plainly for a person, and keeps every credit', () => {
    const other = xml
      .replace('<software>Partbook</software>', '<software>Other</software>')
      .replace('John Newton (1725–1807), 1779', 'John Newton 1725-1807')
      .replace('James P. Carrell (1787–1854)', 'Ludwig van Beethoven')
      .replace('David L. Clayton', 'Traditional Irish')
      .replace('Edwin Othello Excell (1851–1921), 1900', 'arr. Tom Reed');
    const read = MusicXml.read(other.replace(/<miscellaneous-field name="(credit line|OH\w+)">[^<]*<\/[\w-]+>/g, '')); // prettier-ignore
    const found = NotedDetails.taken(read.ok ? read.value.facts : score.facts);
    expect(found.facts.credits).toEqual([
      'Words: John Newton 1725-1807',
      'Music: Ludwig van Beethoven',
      'Music: Traditional Irish',
      'Arrangement: arr. Tom Reed',
    ]);
    expect(found.details.people.map(({ layer, name, born }) => [layer, name, born])).toEqual([
      ['words', 'John Newton', 1725],
      ['tune', 'Ludwig van Beethoven', null],
      ['arrangement', 'Tom Reed', null],
    ]);
  });

  it('is valid against the schema of MusicXML 4.0 (W3C)', async () => {
    expect(await schemaErrors({ 'song.musicxml': xml })).toEqual([]);
  }, 60_000);

  it('keeps as a fact what is said of it and is odd', () => {
    const odd = xml
      .replace('Ephesians 2:4–9', 'Ephesians 99:4')
      .replace('>public domain<', '>free for all<')
      .replace(/(name="language">)en</, '$1the English of Newton<');
    const read = MusicXml.read(odd);
    const { facts, details: found } = NotedDetails.taken(read.ok ? read.value.facts : score.facts);
    expect(found.scripture).toEqual([]);
    expect(found.language).toBeNull();
    expect(found.rights.find(({ layer }) => layer === 'words')).toBeUndefined();
    expect(facts.other).toContainEqual(['scripture', 'John 9:25; Ephesians 99:4']);
    expect(facts.other).toContainEqual(['words rights', 'free for all']);
    expect(found.themes).toEqual(details.themes);
  });

  it('says that nothing is in the public domain without a reason', () => {
    const bare = xml.replace(/<miscellaneous-field name="words rights reason">[^<]*<\/[\w-]+>/, '');
    const read = MusicXml.read(bare);
    const found = NotedDetails.taken(read.ok ? read.value.facts : score.facts).details.rights;
    expect(found.find(({ layer }) => layer === 'words')?.status).toBe('not known');
  });
});

describe('ABC with what is known of a song', () => {
  /** ABC 2.1, section 3.1: `C:` is for authors of words and music, `N:` for notes. */
  it('has its people in C: and the rest in N:', () => {
    const details: SongDetails = {
      ...NO_DETAILS,
      people: [{ layer: 'words', name: 'Reginald Heber', born: 1783, died: 1826, year: null }],
      scripture: ['Revelation 4:4–11'],
      language: 'en',
    };
    const abc = Abc.write(withDetails(hymn('Holy_Holy_Holy-Nicaea.abc'), details, 'abc'));
    expect(abc).toContain('\nC:Words: Reginald Heber (1783–1826)\n');
    expect(abc).toContain('\nN:Scripture: Revelation 4:4–11\n');
    expect(abc).toContain('\nN:Language: en\n');
  });
});

describe('Words with chords and what is known of a song', () => {
  it('are read as people type them', () => {
    const text = [
      'Evening song',
      'Words by Ada Lovell, 1901',
      'Music: Tom Reed (1850–1911)',
      'Scripture: Ps 23; 24; John 3:16, 18',
      'Theme: evening, trust',
      'Language: en',
      '',
      'C        G',
      'The evening comes to us',
    ].join('\n');
    const read = WordsAndChords.read(text);
    const { details } = NotedDetails.taken(read.ok ? read.value.facts : hymn('x').facts);
    expect(details).toMatchObject({
      people: [
        { layer: 'words', name: 'Ada Lovell', born: null, died: null, year: 1901 },
        { layer: 'tune', name: 'Tom Reed', born: 1850, died: 1911, year: null },
      ],
      scripture: ['Ps 23; 24', 'John 3:16, 18'],
      themes: ['evening', 'trust'],
      language: 'en',
    });
  });
});

const word = fc.stringMatching(/^[A-Z][a-zé]{1,9}$/);
const text = (most: number) =>
  fc
    .array(fc.stringMatching(/^[\p{L}\d.,()–]{1,12}$/u), { minLength: 1, maxLength: most })
    .map((words) => words.join(' '));
const year = fc.option(fc.integer({ min: 1400, max: 2100 }), { nil: null });
const layer = fc.constantFrom('words', 'translation', 'tune', 'arrangement');

const author: fc.Arbitrary<Author> = fc
  .record({
    layer,
    name: fc.array(word, { minLength: 1, maxLength: 4 }).map((words) => words.join(' ')),
    born: year,
    died: year,
    year,
  })
  .map((each) => (each.born !== null && each.died !== null && each.died < each.born ? { ...each, died: null } : each)); // prettier-ignore

const anyDetails: fc.Arbitrary<SongDetails> = fc.record({
  firstLine: fc.option(text(8), { nil: null }),
  hymnMeter: fc.option(fc.constantFrom('8.6.8.6', '8.7.8.7 D', 'Irregular'), { nil: null }),
  // One line of people, and one of nobody, is what the source says.
  people: fc.uniqueArray(author, { minLength: 1, maxLength: 6, selector: ({ layer: of, name }) => of + name }), // prettier-ignore
  themes: fc.uniqueArray(word, { maxLength: 30 }),
  scripture: fc.uniqueArray(fc.constantFrom('Psalm 23', 'Ps 23; 24', 'John 3:16, 18', 'Ruth', '1 Cor 13:4–7')), // prettier-ignore
  language: fc.option(fc.constantFrom('en', 'de', 'sw', 'pt-BR'), { nil: null }),
  rights: fc.uniqueArray(
    fc.record({
      layer,
      status: fc.constantFrom('protected', 'our own', 'not known'),
      holder: fc.oneof(fc.constant(''), text(5)),
      licence: fc.oneof(fc.constant(''), text(3)),
      reason: fc.oneof(fc.constant(''), text(30)),
      where: fc.oneof(fc.constant(''), text(5)),
    }),
    { selector: ({ layer: of }) => of },
  ),
});

const inOrder = ({ rights, ...rest }: SongDetails) => ({
  ...rest,
  rights: [...rights].sort((a, b) => a.layer.localeCompare(b.layer)),
});

describe('Whatever is known of a song', () => {
  const chorded = Reduction.withChords(hymn('Amazing_Grace-New_Britain.abc'), { density: 'bar' });

  it.each(FORMATS)('comes back from %s', (as) => {
    fc.assert(
      fc.property(anyDetails, (details) => {
        expect(inOrder(again(chorded, details, as).details)).toEqual(inOrder(details));
      }),
      { numRuns: 25, seed: 20260214 },
    );
  });
});
