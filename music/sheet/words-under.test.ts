import { describe, expect, it } from 'vitest';
import { hymn } from '#test/support/hymn.ts';
import { songOf } from '#test/support/small-abc.ts';
import { makeEngraver } from '#test/support/verovio.ts';
import { write } from '../formats/musicxml.ts';
import type { Score, Section } from '../score/score.ts';
import { melodyOf } from '../score/time.ts';
import {
  leftOutOf,
  textVerses,
  versePrinted,
  versesUnder,
  verseUnder,
  withWordsOf,
  wordsUnderVoice,
} from './words-under.ts';

const veni = hymn('O_Come_O_Come_Emmanuel-Veni_Emmanuel.abc');
const wordsAt = (song: Score, verse: number) =>
  melodyOf(withWordsOf(song, verse))
    .notes.flatMap(({ syllables }) => syllables?.[verse - 1]?.text ?? [])
    .join(' ');
const line = (verse: number) => wordsAt(veni, verse);

/** `verse:2 refrain`: the song with another form. */
function inForm(song: Score, text: string): Score {
  const form = text.split(' ').map((each) => {
    const [section = '', verse] = each.split(':');
    return { section, verse: verse === undefined ? null : Number(verse) };
  });
  return { ...song, form };
}

/** Two bars, a verse each, both with the words of both verses. */
function twoTunes(): { tune: Score; of: readonly string[] } {
  const song = songOf('CDz2|EFz2|', ['do re mi fa', 'X Y so la']);
  const [first] = song.sections as [Section];
  const half = (song.bars[1] as Score['bars'][number]).at;
  const sections = [
    { ...first, id: 'a', to: half },
    { ...first, id: 'b', from: half },
  ];
  return { tune: { ...song, sections }, of: ['a', 'b'] };
}

describe('the words of a verse under the notes', () => {
  it.each([1, 2, 3, 4, 5])('verse %i goes on with the refrain, which is written once', (verse) => {
    expect(line(verse)).toMatch(
      /^O come, .* Re joice! Re joice! .* Is ra el\.$|^O come, .* I sra el\.$/,
    );
  });

  it('are those of the verse that is asked for', () => {
    expect(line(2)).toContain('Thou Wis dom');
    expect(line(2)).not.toContain('ran som');
  });

  it('leave the other verses to stand as text, with their numbers', () => {
    expect(versesUnder(veni)).toEqual([1, 2, 3, 4, 5]);
    expect(textVerses(veni, 2).map(({ number }) => number)).toEqual([1, 3, 4, 5]);
    expect(textVerses(veni, 2)[1]?.lines.join(' ')).toMatch(/^O come, Thou Rod of Jesse, free/);
    expect(textVerses(veni, 'all')).toEqual([]);
  });

  it('are the first verse’s where the song has not got the one that is asked for', () => {
    expect([9, 2, 'all' as const].map((verse) => versePrinted(veni, verse))).toEqual([1, 2, 'all']);
  });

  it('are those of the first verse that is sung, and only verses that are sung stand as text', () => {
    const song = inForm(veni, 'verse:4 refrain verse:2 refrain verse:5 refrain');
    expect([versesUnder(song), versePrinted(song, null)]).toEqual([[4, 2, 5], 4]);
    expect([1, 3, 9, 2].map((verse) => versePrinted(song, verse))).toEqual([4, 4, 4, 2]);
    expect(textVerses(song, 4).map(({ number }) => number)).toEqual([2, 5]);
    expect(wordsAt(song, 4)).toMatch(/^O come, Thou Day .* Re joice!/);
  });

  it('are, with all verses on the page, of those that are sung', () => {
    const song = inForm(veni, 'verse:2 refrain verse:4 refrain');
    const rows = (section: string) => {
      const { from, to } = song.sections.find(({ id }) => id === section) as Section;
      const notes = melodyOf(withWordsOf(song, 'all')).notes;
      const here = notes.filter(({ at }) => at >= from && at < to);
      return song.verses.flatMap(({ number }, i) =>
        here.some(({ syllables }) => syllables?.[i]) ? [number] : [],
      );
    };
    expect(rows('verse')).toEqual([2, 4]);
    // Written once, under verse 1.
    expect(rows('refrain')).toEqual([1]);
  });

  it('are none where only verses are sung that have none there', () => {
    const grace = hymn('Amazing_Grace-New_Britain.abc');
    const song = inForm(grace, 'verse:6 verse:7');
    expect([versesUnder(song), versePrinted(song, null), wordsAt(song, 6)]).toEqual([[], 6, '']);
    expect(textVerses(song, 6).map(({ number }) => number)).toEqual([6, 7]);
  });

  it('stand once in the text of a verse, also where the song is written out for verses that are played otherwise', () => {
    const { tune, of } = twoTunes();
    const song = inForm(tune, `${of[0]}:1 ${of[1]}:2`);
    expect(textVerses(song, 1)).toEqual([{ number: 2, lines: ['so la'] }]);
    // Each section has words of both verses, and is sung to one.
    expect(wordsAt(song, 1)).toBe('do re so la');
    expect(verseUnder(song, song.sections[1] as Section, 1)).toBe(2);
  });

  it('of a pass that names no verse are the first verse’s, and count as sung', () => {
    const song = inForm(veni, 'verse refrain verse:3 refrain');
    expect([versesUnder(song), versePrinted(song, null)]).toEqual([[1, 3], 1]);
    expect(versesUnder(inForm(veni, 'verse refrain'))).toEqual([1, 2, 3, 4, 5]);
  });

  it('are all text where a verse has none under the notes', () => {
    const below = { number: 6, label: '6.', lines: ['Below the music'] };
    const form = [...veni.form, { section: 'verse', verse: 6 }];
    const song = { ...veni, verses: [...veni.verses, below], form };
    expect(textVerses(song, 'all')).toEqual([{ number: 6, lines: ['Below the music'] }]);
    expect(versesUnder(song)).toEqual([1, 2, 3, 4, 5]);
  });

  it('are none where the form leaves a section out, and stay where the song has no form', () => {
    const song = inForm(veni, 'verse:1 verse:3');
    for (const verse of [1, 3]) expect(wordsAt(song, verse)).not.toMatch(/Re joice/);
    expect(wordsAt(song, 3)).toMatch(/^O come, Thou Rod of Jes se,/);
    expect(textVerses(song, 3)[0]?.lines.join(' ')).toMatch(/^O come, O come.* appear\.?$/);
    const refrain = song.sections.find(({ id }) => id === 'refrain') as Section;
    expect([leftOutOf(song), verseUnder(song, refrain, 1)]).toEqual([[refrain], null]);
    expect([leftOutOf({ ...veni, form: [] }), leftOutOf(veni)]).toEqual([[], []]);
    expect(wordsAt({ ...veni, form: [] }, 1)).toMatch(/Re joice/);
  });

  it('are none of what is left out also with all verses on the page', () => {
    const { tune, of } = twoTunes();
    const song = inForm(tune, `${of[1]}:1 ${of[1]}:2`);
    const rows = melodyOf(withWordsOf(song, 'all')).notes.flatMap(({ syllables }) =>
      (syllables ?? []).flatMap((each) => each?.text ?? []),
    );
    expect(rows.join(' ')).toBe('mi so fa la');
    expect(textVerses(song, 1)).toEqual([{ number: 2, lines: ['so la'] }]);
  });
});

describe('the words of the tune under a bass', () => {
  /** A tune with a pickup of one beat, and a bass that rests there and then has a note a bar. */
  const song = songOf('G|c2e2|d4|]', ['A- ma- zing grace']);
  const [pickup, ...bars] = song.bars as [Score['bars'][number], ...Score['bars']];
  const notes = [
    { at: pickup.at, length: pickup.length, pitches: [] },
    ...bars.map(({ at, length }) => ({ at, length, pitches: ['C2'] })),
  ];
  const bass = {
    id: 'bass',
    name: 'Bass',
    group: 'Bass',
    staff: 2,
    clef: 'bass-8',
    notes,
  } as const;
  const score: Score = { ...song, voices: [...song.voices, bass] };
  const under = (pickups: boolean) =>
    wordsUnderVoice(score, 'bass', { pickups })
      .voices.find(({ id }) => id === 'bass')
      ?.notes.map(({ syllables }) => syllables?.[0] ?? null);

  it('stand under the rest of the pickup on a sheet, so that nobody comes in with them', () => {
    expect(under(true)).toEqual([
      { text: 'A', hyphen: true },
      { text: 'mazing' },
      { text: 'grace' },
    ]);
  });

  it('stand under the first note in a file, as programs leave out the words of rests', () => {
    expect(under(false)).toEqual([null, { text: 'Amazing' }, { text: 'grace' }]);
  });

  // Asked of Verovio 6.3.0, which leaves out the words of a rest itself.
  it('are engraved there, beside a rest that is seen', async () => {
    const engraver = await makeEngraver();
    const purpose = 'engraving';
    engraver.loadData(
      write(wordsUnderVoice(score, 'bass', { pickups: true }), { voices: ['bass'], purpose }),
    );
    const [first = '', second = ''] =
      engraver.getMEI({}).match(/<measure[\s\S]*?<\/measure>/g) ?? [];
    expect(first).toMatch(/visible="false"[\s\S]*>A<\/syl>[\s\S]*<rest /);
    expect(second).toContain('>mazing</syl>');
  }, 60_000);
});
