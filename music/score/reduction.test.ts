import { describe, expect, it } from 'vitest';
import { buildScore, type ScoreText } from '#test/support/score-builder.ts';
import { say, write } from '../pitch/chord-symbol.ts';
import * as Reduction from './reduction.ts';
import { QUARTER, type Score } from './score.ts';

/** `C@0 G7/B@2`: the chords with where they begin, in quarters. */
function chordsOf(score: Score, density: Reduction.Density = 'beat'): string {
  const { chords } = Reduction.chords(score, { density });
  return chords
    .map(({ at, chord }) => `${chord ? write(chord) : 'N.C.'}@${at / QUARTER}`)
    .join(' ');
}

function read(text: Partial<ScoreText> & Pick<ScoreText, 'voices'>, density?: Reduction.Density) {
  return chordsOf(buildScore({ key: 'C', meter: '4/4', ...text }), density);
}

const AUTHENTIC = {
  S: 'C5:2 D5:2 | D5:2 B4:2 | C5:4',
  A: 'G4:2 A4:2 | G4:2 F4:2 | E4:4',
  T: 'E4:2 F4:2 | G4:2 D4:2 | G3:4',
  B: 'C3:2 F3:2 | G3:2 G2:2 | C3:4',
};

describe('Chords from the voices', () => {
  it('follow a cadence of the textbook: I, ii6, V7, I (common practice)', () => {
    const voices = {
      ...AUTHENTIC,
      S: 'C5:2 D5:2 | D5:2 B4:2 | C5:4',
      T: 'E4:2 F4:2 | B3:2 D4:2 | G3:4',
    };
    expect(read({ voices })).toBe('C@0 Dm/F@2 G7@4 C@8');
  });

  it('take a cadential six-four as the tonic over the fifth, on the stronger beat before V', () => {
    // The progression I – [I6/4] – V7 – I in C: "Harmony and Musicianship with Solfège", Pressbooks, ch. 5.
    const voices = {
      S: 'E5:2 F5:2 | E5:2 D5:2 | C5:4',
      A: 'C5:2 D5:2 | C5:2 B4:2 | C5:4',
      T: 'G4:2 A4:2 | G4:2 F4:2 | E4:4',
      B: 'C3:2 F3:2 | G3:2 G3:2 | C3:4',
    };
    expect(read({ voices })).toBe('C@0 Dm/F@2 C/G@4 G7@6 C@8');
  });

  it('hear a suspension as a note outside and not as a chord: V7, I with 4–3', () => {
    // Open Music Theory, "Embellishing Tones": held over, then down by step.
    const voices = {
      S: 'G4:4 | G4:4 | G4:4',
      A: 'E4:4 | F4:4~ | F4 E4:3',
      T: 'C4:4 | B3:4 | C4:4',
      B: 'C3:4 | G2:4 | C3:4',
    };
    const reading = Reduction.chords(buildScore({ key: 'C', meter: '4/4', voices }), {
      density: 'beat',
    });
    expect(read({ voices })).toBe('C@0 G7@4 C@8');
    expect(reading.nonChordTones.map(({ kind, figure }) => [kind, figure])).toEqual([
      ['suspension', '4–3'],
    ]);
  });

  it('are spelled as the notes are: D sharp makes B major, E flat C minor', () => {
    const sharp = { S: 'D#5:4 E5:4', A: 'B4:4 B4:4', T: 'F#4:4 G4:4', B: 'B2:4 E3:4' };
    expect(read({ key: 'E minor', voices: sharp })).toBe('B@0 Em@4');
    const flat = {
      S: 'Eb5:4 D5:4 C5:4',
      A: 'G4:4 G4:4 G4:4',
      T: 'C4:4 B3:4 Eb4:4',
      B: 'C3:4 G2:4 C3:4',
    };
    expect(read({ key: 'C minor', voices: flat })).toBe('Cm@0 G@4 Cm@8');
  });

  it.each([
    ['two', { S: 'C5:2 D5:2 C5:4', B: 'E3:2 G3:2 C3:4' }, 'C/E@0 G@2 C@4'],
    ['three', { S: 'E5:2 D5:2 E5:4', A: 'G4:2 G4:2 G4:4', B: 'C3:2 B2:2 C3:4' }, 'C@0 G/B@2 C@4'],
    [
      'five',
      {
        S: 'C5:4 B4:4 C5:4',
        A: 'G4:4 F4:4 E4:4',
        T: 'E4:4 D4:4 C4:4',
        U: 'C4:4 G3:4 G3:4',
        B: 'C3:4 G2:4 C3:4',
      },
      'C@0 G7@4 C@8',
    ],
  ])('are found in %s voices', (_, voices, expected) => {
    expect(read({ voices })).toBe(expected);
  });

  it('are not invented for a tune alone: the reading says so', () => {
    const score = buildScore({ key: 'C', meter: '4/4', voices: { S: 'C5 D5 E5 C5' } });
    expect(Reduction.chords(score, { density: 'bar' })).toMatchObject({
      chords: [],
      share: 0,
      reason: 'This score has one voice; chords are found where two or more sound together.',
    });
  });

  it('begin at a pickup and are told by its beat', () => {
    const score = buildScore({
      key: 'G',
      meter: '3/4',
      voices: { S: 'D4 | G4:3 | G4:2', A: 'B3 | D4:3 | D4:2', B: 'G3 | G3:3 | G3:2' },
    });
    const { chords } = Reduction.chords(score, { density: 'beat' });
    expect(chords[0]?.guess?.reason).toBe(
      'the pickup, beat 3: G, B and D sound together over G for six beats.',
    );
  });

  it('change on the counted note where there is no meter, and every two for a beginner', () => {
    const voices = {
      S: 'G4:2 G4 F#4 E4 D4 | G4:2 A4:2 B4:3',
      A: 'D4:2 D4 D4 B3 B3 | B3:2 D4:2 D4:3',
      T: 'B3:2 B3 A3 G3 F#3 | G3:2 F#3:2 G3:3',
      B: 'G3:2 G3 D3 E3 B2 | E3:2 D3:2 G2:3',
    };
    // The first lines of Old Hundredth as the Open Hymnal Project has it.
    const text = { key: 'G', meter: 'none', voices };
    expect(read(text)).toBe('G@0 D@3 Em@4 Bm@5 Em@6 D@8 G@10');
    expect(read(text, 'bar')).toBe('G@0 Em@4 D@8 G@10');
  });

  it('go on through a rest, and are none where a whole bar is silent at the start', () => {
    const voices = {
      S: 'r:4 | C5:2 r:2 | E5:4',
      A: 'r:4 | E4:2 r:2 | G4:4',
      B: 'r:4 | C3:2 r:2 | C3:4',
    };
    expect(read({ voices })).toMatch(/^(N\.C\.@0 )?C@[04]$/);
  });

  it('follow a change of key and of meter', () => {
    const voices = {
      S: 'C5:4 | A4:3 | F#4:3 | G4:3',
      A: 'G4:4 | E4:3 | D4:3 | D4:3',
      T: 'E4:4 | C4:3 | C4:3 | B3:3',
      B: 'C3:4 | A2:3 | D3:3 | G2:3',
    };
    const text = { voices, keyChanges: [[4, 'G']], meterChanges: [[4, '3/4']] } as const;
    expect(read(text)).toBe('C@0 Am@4 D7@7 G@10');
  });
});

describe('A slash bass', () => {
  it('stands where the bass is no root for the whole chord', () => {
    const voices = {
      S: 'C5:2 D5:2 E5:4',
      A: 'G4:2 G4:2 G4:4',
      T: 'E4:2 B3:2 C4:4',
      B: 'C3:2 B2:2 C3:4',
    };
    expect(read({ voices })).toBe('C@0 G/B@2 C@4');
  });

  it('does not come from a bass that passes, or that goes to the root and away', () => {
    const passing = {
      S: 'E5:4 F5:4',
      A: 'G4:4 A4:4',
      T: 'C4:4 C4:4',
      B: 'C3:2 D3 E3 | F3:4',
    };
    expect(read({ key: 'F', voices: passing })).toBe('C@0 F@4');
    const arpeggio = { S: 'E5:4 E5:4', A: 'G4:4 G4:4', T: 'C4:4 C4:4', B: 'E3:2 C3:2 | C3:4' };
    expect(read({ voices: arpeggio })).toBe('C@0');
  });
});

describe('A chord that a person wrote', () => {
  const score = buildScore({ key: 'C', meter: '4/4', voices: AUTHENTIC });
  const found = Reduction.withChords(score, { density: 'beat' });
  const mine = { root: 'D', kind: 'minor-seventh', degrees: [], bass: 'F' } as const;
  const second = found.chords[1];

  it('replaces the guess in its place, without a guess field, and stays when the voices are read again', () => {
    expect(second?.at).toBe(2 * QUARTER);
    const corrected = Reduction.correct(found, 2 * QUARTER, mine);
    for (const density of ['beat', 'bar'] as const) {
      const { chords } = Reduction.chords(corrected, { density });
      const there = chords.find((each) => each.at === 2 * QUARTER);
      expect(there).toEqual({ at: 2 * QUARTER, length: 2 * QUARTER, chord: mine });
      expect(chords.filter((each) => each.guess === undefined)).toHaveLength(1);
    }
  });

  it('cuts the chord that it begins in, and may say that there is none', () => {
    const corrected = Reduction.correct(found, 3 * QUARTER, null);
    expect(Reduction.chords(corrected, { density: 'beat' }).chords.slice(1, 3)).toMatchObject([
      { at: 2 * QUARTER, length: QUARTER, guess: {} },
      { at: 3 * QUARTER, length: QUARTER, chord: null },
    ]);
  });

  it('can be taken back', () => {
    const corrected = Reduction.correct(found, 2 * QUARTER, mine);
    const back = Reduction.uncorrect(corrected, 2 * QUARTER);
    expect(Reduction.withChords(back, { density: 'beat' }).chords).toEqual(found.chords);
    expect(Reduction.uncorrect(found, 2 * QUARTER)).toBe(found);
  });

  it('cannot stand outside the music', () => {
    expect(() => Reduction.correct(score, 400 * QUARTER, mine)).toThrow(RangeError);
  });
});

describe('Evidence', () => {
  const score = buildScore({
    key: 'G',
    meter: '3/4',
    voices: { S: 'G4 A4 B4 | G4:3', A: 'D4:3 | D4:3', T: 'B3:3 | B3:3', B: 'G3:3 | G3:3' },
  });
  const reading = Reduction.chords(score, { density: 'beat' });

  it('is said with bar, beat and pitches', () => {
    expect(reading.chords[0]?.guess?.reason).toBe(
      'bar 1, beat 1: G, B and D sound together over G for six beats; A passes from G to B.',
    );
  });

  it('is itemised', () => {
    expect(reading.evidence[0]?.items).toEqual([{ what: 'notes outside', points: 40 }]);
  });

  it('names the next best chords, and how much worse they are', () => {
    const voices = {
      S: 'C5:3 B4 | C5:4',
      A: 'G4:3 F4 | E4:4',
      T: 'E4:3 D4 | C4:4',
      B: 'C3:3 G2 | C3:4',
    };
    const reading = Reduction.chords(buildScore({ key: 'C', meter: '4/4', voices }), {
      density: 'beat',
    });
    const others = reading.evidence[1]?.others ?? [];
    expect(others.map(({ chord }) => say(chord))).toContain('G');
    const distances = others.map(({ distance }) => distance);
    expect(distances).toEqual([...distances].sort((a, b) => a - b));
    expect(Math.min(...distances)).toBeGreaterThan(0);
    expect(reading.chords[1]?.guess?.others).toEqual(others.map(({ chord }) => chord));
  });
});
