import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { ChordSymbol, Pitches, SongFiles, type Score, type SongFormat } from '#music';
import { anyScore as scoreOfAbc } from '#test/support/arbitrary-score.ts';
import { FACETS, through, WRITERS, type Facet } from '#test/support/format-facets.ts';
import { anyScore as scoreOfVoices } from '#test/support/generated-scores.ts';
import { hymn } from '#test/support/hymn.ts';
import { HYMN_FILES } from '#test/support/hymns.ts';

/** Whether a format holds this of a score; `true`: of every one. */
type Holds = true | ((score: Score) => boolean);
type Held = Readonly<Partial<Record<Facet, Holds>>>;

const everything = Object.fromEntries(Object.keys(FACETS).map((name) => [name, true])) as Held;
/** Degrees made at random need not make a symbol that is one; MIDI has chords as their symbols. */
const areSymbols: Holds = ({ chords }) =>
  chords.every(({ chord }) => {
    const read = chord && ChordSymbol.read(ChordSymbol.write(chord));
    return !read || (read.ok && ChordSymbol.sameChord(read.value, chord));
  });
/** G held, and F double sharp struck beside it: on a keyboard that is one key, struck anew, and takes two lines. */
const strikesNothingHeld: Holds = ({ voices }) =>
  voices.every(({ notes }) =>
    notes.every(({ tie, pitches }, i) => {
      const next = notes[i + 1]?.pitches ?? [];
      const isOther = (name: string, other: string): boolean =>
        name !== other && Pitches.midiOf(name) === Pitches.midiOf(other);
      return !tie || !pitches.some((name) => next.some((other) => isOther(name, other)));
    }),
  );
const isMetered: Holds = ({ meters }) => meters.every(({ meter }) => meter.beats !== null);

/**
 * What each format holds of a song. ABC (with the fields of our own writer) and MusicXML hold all of it. MIDI knows keys on a keyboard and no
 * names of notes, one verse, no repeats; a meter of none and C major alone say nothing there; words with chords have no time: the
 * words and the chords of every pass, and the facts.
 */
const HOLDS: Readonly<Record<SongFormat, Held>> = {
  abc: everything,
  musicxml: everything,
  midi: {
    sound: true,
    notes: strikesNothingHeld,
    firstVerse: strikesNothingHeld,
    chords: areSymbols,
    bars: true,
    sections: true,
    title: true,
    rights: true,
    meters: isMetered,
    firstMeter: isMetered,
    tempos: true,
    signatures: ({ keys }) => keys.some(({ signature }) => signature !== 0),
  },
  words: {
    text: true,
    passChords: true,
    title: true,
    tune: true,
    firstKey: ({ keys }) => keys[0]?.sure === true,
  },
};

/**
 * What they hold of a song that has no time because it was written as words with chords. MIDI is time alone; MusicXML has no words
 * at rests yet.
 */
const OF_WORDS_ALONE: Readonly<Partial<Record<SongFormat, readonly Facet[]>>> = {
  abc: ['text', 'passChords', 'title', 'tune', 'firstKey'],
  musicxml: ['passChords', 'title', 'tune', 'firstKey'],
};

const FORMATS = ['abc', 'musicxml', 'midi', 'words'] as const;
const PAIRS = FORMATS.flatMap((first) =>
  FORMATS.filter((second) => second !== first).map((second) => [first, second] as const),
).filter(([first, second]) => !(first === 'words' && second === 'midi'));

/** Everything that both formats hold of a score. */
function shared(score: Score, first: SongFormat, second: SongFormat): Facet[] {
  const holds = (format: SongFormat, facet: Facet): boolean => {
    const held = HOLDS[format][facet];
    return typeof held === 'function' ? held(score) : held === true;
  };
  const both = (Object.keys(FACETS) as Facet[]).filter(
    (each) => holds(first, each) && holds(second, each),
  );
  return first === 'words' ? both.filter((each) => OF_WORDS_ALONE[second]?.includes(each)) : both;
}

function facets(score: Score, names: readonly Facet[]): Record<string, unknown> {
  return Object.fromEntries(names.map((name) => [name, FACETS[name](score)]));
}

function expectKept(score: Score, first: SongFormat, second: SongFormat): void {
  const names = shared(score, first, second);
  expect(names.length).toBeGreaterThan(0);
  const wanted = facets(score, names);
  const once = through(first, score);
  expect(facets(once, names), `after ${first}`).toEqual(wanted);
  expect(facets(through(second, once), names), `after ${second}`).toEqual(wanted);
}

describe('A hymn written in one format, read, written in another and read again', () => {
  describe.each(PAIRS)('%s, then %s', (first, second) => {
    it.each(HYMN_FILES)('%s keeps everything that both hold', (file) => {
      expectKept(hymn(file), first, second);
    });
  });

  it.each(HYMN_FILES)('%s as words alone has no MIDI, and that is said', (file) => {
    const untimed = through('words', hymn(file));
    const read = SongFiles.read(WRITERS.midi(untimed), 'midi');
    expect(read.ok ? [] : read.problems.map(({ code }) => code)).toEqual(['no-notes']);
  });
});

/** MIDI has no song without a note. */
const hasNotes = ({ voices }: Score): boolean =>
  voices.some(({ notes }) => notes.some(({ pitches }) => pitches.length > 0));

describe('Any score written in one format, read, written in another and read again', () => {
  const timed = PAIRS.filter((pair) => !pair.includes('words'));
  it.each(timed)('that ABC can hold: %s, then %s', { timeout: 120_000 }, (first, second) => {
    fc.assert(
      fc.property(scoreOfAbc, (score) => {
        fc.pre(hasNotes(score));
        expectKept(score, first, second);
      }),
      { numRuns: 60, seed: 20261128 },
    );
  });

  const ofVoices = [
    ['musicxml', 'midi'],
    ['midi', 'musicxml'],
    ['midi', 'abc'],
  ] as const;
  it.each(ofVoices)('with all that a note can carry: %s, then %s', (first, second) => {
    fc.assert(
      fc.property(scoreOfVoices, (score) => {
        fc.pre(hasNotes(score));
        expectKept(score, first, second);
      }),
      { numRuns: 60, seed: 20261128 },
    );
  });
});
