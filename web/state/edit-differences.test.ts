import { Editing, type Edit, type Score } from '#music';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { alike, differences, sameMusic, sayBars, withAnswers } from './edit-differences.ts';
import { blankSong } from './edit-words.ts';

const after = (score: Score, ...edits: Edit[]): Score =>
  edits.reduce((now, edit) => {
    const done = Editing.apply(now, edit);
    if (!done.ok) throw new Error(done.problems[0]?.message);
    return done.value;
  }, score);

const note = (bar: number, pitch = 'G4'): Edit => ({
  do: 'note',
  voice: 'melody',
  at: (bar - 1) * 80640,
  length: 20160,
  pitches: [pitch],
});

describe('Two states of a song', () => {
  const song = after(blankSong(), note(1), note(2), note(3), note(4));

  it('that are the same differ in nothing, whatever the order of their fields', () => {
    const turned = Object.fromEntries(Object.entries(song).reverse()) as unknown as Score;
    expect(differences(song, turned)).toEqual({ mine: [], theirs: [], besides: [] });
    expect(alike(song, turned)).toBe(true);
  });

  it('differ in the bars where one was changed', () => {
    const found = differences(after(song, note(3, 'A4')), after(song, note(2, 'B4')));
    expect(found.mine).toEqual([1, 2]);
    expect(sayBars(song, found.mine)).toBe('bars 2 and 3');
  });

  it('differ in the bars that one put in, and in no other', () => {
    const mine = after(song, { do: 'insert bars', bar: 2, count: 2 });
    const found = differences(mine, song);
    expect(sayBars(mine, found.mine)).toBe('bars 3 and 4');
    expect(found.theirs).toEqual([]);
  });

  it('differ in words and chords as well as in notes', () => {
    const mine = after(song, { do: 'chord', at: 80640, symbol: 'D7' });
    expect(sayBars(mine, differences(mine, song).mine)).toBe('bar 2');
    const worded = after(song, { do: 'words', section: 'verse', verse: 1, text: 'One two' });
    expect(differences(worded, song).mine).toEqual([0, 1]);
  });

  it('differ besides in what no bar has', () => {
    const mine = after(song, { do: 'facts', facts: { title: 'Evening' } });
    expect(differences(mine, song).besides).toEqual(['the title']);
  });
});

const BAR = 80640;
const QUARTER = 20160;
const BARS = 6;

/** Two voices and chords; some notes last over the bar line, tied. */
const written: fc.Arbitrary<Score> = fc
  .array(
    fc.oneof(
      fc.record({
        do: fc.constant('note' as const),
        voice: fc.constantFrom('melody', 'alto'),
        at: fc.nat(BARS * 4 - 1).map((beat) => beat * QUARTER),
        length: fc.constantFrom(1, 2, 3, 6, 9).map((beats) => beats * QUARTER),
        pitches: fc.constantFrom('C4', 'G4', 'B4').map((pitch) => [pitch]),
      }),
      fc.record({
        do: fc.constant('chord' as const),
        at: fc.nat(BARS * 4 - 1).map((beat) => beat * QUARTER),
        symbol: fc.constantFrom('C', 'Am', 'G7', null),
      }),
    ),
    { maxLength: 14 },
  )
  .map((edits) =>
    edits.reduce<Score>(
      (now, edit) => {
        const done = Editing.apply(now, edit);
        return done.ok ? done.value : now;
      },
      after(
        blankSong(),
        { do: 'insert bars', bar: 4, count: BARS - 4 },
        { do: 'add voice', id: 'alto', name: 'Alto', clef: 'treble' },
      ),
    ),
  );

/** Something that is done at a place within a bar, and lies in it whole. */
const inBar = (bar: number): fc.Arbitrary<Edit> => {
  const beat = fc.nat(3);
  const at = beat.map((each) => bar * BAR + each * QUARTER);
  const voice = fc.constantFrom('melody', 'alto');
  return fc.oneof(
    fc
      .tuple(voice, beat, fc.constantFrom('D4', 'A4'))
      .map(([who, each, pitch]): Edit => ({ do: 'note', voice: who, at: bar * BAR + each * QUARTER, length: QUARTER, pitches: [pitch] })), // prettier-ignore
    fc.record({ do: fc.constant('erase' as const), voice, at }),
    fc.record({ do: fc.constant('pitch' as const), voice, at, pitches: fc.constant(['F4']) }),
    fc.record({ do: fc.constant('chord' as const), at, symbol: fc.constantFrom('D', 'Em7', null) }),
    fc.record({ do: fc.constant('remove chord' as const), at }),
    fc.record({ do: fc.constantFrom('fermata' as const, 'tie' as const), voice, at, on: fc.constant(true) }), // prettier-ignore
    fc.record({ do: fc.constant('syllable' as const), at, verse: fc.constant(1), syllable: fc.constant({ text: 'la' }) }), // prettier-ignore
    fc.record({ do: fc.constant('repeat' as const), bar: fc.constant(bar), end: fc.constant(true) }), // prettier-ignore
    fc.record({ do: fc.constant('key' as const), bar: fc.constant(bar), key: fc.constant({ tonic: 'D', mode: 'major' as const }) }), // prettier-ignore
  );
};

/** The bars that a bar's notes are tied into and out of, itself among them. */
function reach(score: Score, bar: number): ReadonlySet<number> {
  const bars = new Set([bar]);
  const isTiedInto = (line: number): boolean =>
    score.voices.some(({ notes }) =>
      notes.some(({ at, length, tie }) => tie && at + length === line * BAR),
    );
  for (let at = bar; isTiedInto(at); at -= 1) bars.add(at - 1);
  for (let at = bar + 1; isTiedInto(at); at += 1) bars.add(at);
  return bars;
}

describe('One edit in one bar', () => {
  const one = fc.tuple(written, fc.nat(BARS - 1).chain((bar) => fc.tuple(fc.constant(bar), inBar(bar)))); // prettier-ignore

  it('is found in that bar and where its ties reach, and nowhere else', () => {
    let done = 0;
    fc.assert(
      fc.property(one, ([before, [bar, edit]]) => {
        const edited = Editing.apply(before, edit);
        if (!edited.ok) return;
        done += 1;
        const now = edited.value;
        const found = differences(now, before);
        const may = new Set([...reach(before, bar), ...reach(now, bar)]);
        expect(found.mine.filter((each) => !may.has(each))).toEqual([]);
        expect(found.theirs).toEqual(found.mine);
        if (!alike(now, before)) expect(found.mine).toContain(bar);
      }),
      { numRuns: 400 },
    );
    expect(done).toBeGreaterThan(150);
  });
});

describe('How long a chord lasts', () => {
  it('is said where it leaves off, and not in every bar until then', () => {
    const long = after(blankSong(), { do: 'chord', at: 0, symbol: 'C' });
    expect(differences(long, blankSong()).mine).toEqual([0]);
    const short = { ...long, chords: long.chords.map((each) => ({ ...each, length: 2.5 * BAR })) };
    expect(differences(short, long).mine).toEqual([2]);
  });
});

describe('The same music', () => {
  const doubted: Score = {
    ...after(blankSong(), { do: 'chord', at: 0, symbol: 'C' }),
    keys: blankSong().keys.map((key) => ({ ...key, sure: false, reason: 'It ends on G.' })),
  };
  const guessed: Score = {
    ...doubted,
    chords: doubted.chords.map((each) => ({ ...each, guess: { reason: 'C and E', others: [] } })),
  };
  const sure = after(blankSong(), { do: 'chord', at: 0, symbol: 'C' });

  it('is it whatever was asked and answered about it', () => {
    expect(alike(guessed, sure)).toBe(false);
    expect(sameMusic(guessed, sure)).toBe(true);
    expect(sameMusic(after(sure, { do: 'tempo', tempo: { beat: QUARTER, perMinute: 90 } }), sure)).toBe(false); // prettier-ignore
  });

  it('takes answers over where they are about what it has, and nowhere else', () => {
    expect(withAnswers(guessed, sure)).toEqual(sure);
    const other = after(guessed, { do: 'chord', at: 0, symbol: 'Am' });
    expect(withAnswers(other, sure).chords).toEqual(other.chords);
  });
});

describe('Bars', () => {
  it.each([
    [[0], 'bar 1'],
    [[0, 1], 'bars 1 and 2'],
    [[0, 1, 2], 'bars 1 to 3'],
    [[0, 2, 3], 'bars 1, 3 and 4'],
    [[0, 3], 'bars 1 and 4'],
    [[], ''],
  ] as const)('%j are said as “%s”', (indexes, words) => {
    expect(sayBars(blankSong(), indexes)).toBe(words);
  });

  it('the pickup is called so', () => {
    const score = after(blankSong(), { do: 'pickup', length: 20160 });
    expect(sayBars(score, [0, 1])).toBe('the pickup and bar 1');
  });
});
