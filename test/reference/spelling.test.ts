import { Chord as TonalChord, Key as TonalKey, Note, Scale } from 'tonal';
import { describe, expect, it } from 'vitest';
import { ChordSymbol, Intervals, Keys, Pitches } from '#music';

/** Independent reference: the general music library tonal 6.4.2, which spells by its own arithmetic. */

const LETTERS = 'CDEFGAB'.split('');
const NOTES = LETTERS.flatMap((letter) => ['bb', 'b', '', '#', '##'].map((sign) => letter + sign));

/** Chords of which tonal names only the tones that are usually played. */
const TALL = ['11', '13', 'maj13', 'm13', '7b13'];

describe('Spelling agrees with tonal', () => {
  it('of every pitch moved by every interval up to two octaves, up and down', () => {
    const names = [
      ...['1P', '1A', '2m', '2M', '2A', '3d', '3m', '3M', '4P', '4A', '5d', '5P', '5A', '6m', '6M'],
      ...['7d', '7m', '7M', '8P', '9m', '9M', '10m', '10M', '11P', '12P', '15P'],
    ];
    let compared = 0;
    for (const note of NOTES) {
      for (const name of names.flatMap((each) => [each, `-${each}`])) {
        const theirs = Note.transpose(`${note}4`, name);
        const interval = Intervals.intervalBetween('C4', Note.transpose('C4', name));
        // tonal goes past three accidentals; nobody reads those.
        if (/#{4}|b{4}/.test(theirs)) continue;
        expect(Intervals.transposePitch(`${note}4`, interval)).toBe(theirs);
        expect(Pitches.midiOf(theirs)).toBe(Note.midi(theirs));
        compared += 1;
      }
    }
    expect(compared).toBeGreaterThan(1700);
  });

  it('of every key: its signature and its scale', () => {
    for (let fifths = -7; fifths <= 7; fifths += 1) {
      const major = Keys.keyOfSignature(fifths, 'major');
      const minor = Keys.keyOfSignature(fifths, 'minor');
      expect(Keys.scaleOf(major)).toEqual([...TonalKey.majorKey(major.tonic).scale]);
      expect(TonalKey.majorKey(major.tonic).alteration).toBe(Keys.signatureOf(major));
      expect(Keys.scaleOf(minor)).toEqual([...TonalKey.minorKey(minor.tonic).natural.scale]);
      expect(TonalKey.minorKey(minor.tonic).alteration).toBe(Keys.signatureOf(minor));
      for (const mode of ['dorian', 'phrygian', 'lydian', 'mixolydian', 'locrian'] as const) {
        const key = Keys.keyOfSignature(fifths, mode);
        expect(Keys.scaleOf(key)).toEqual(Scale.get(`${key.tonic} ${mode}`).notes);
      }
    }
  });

  it('of the tones of every chord that tonal can read', () => {
    // As tonal writes them. It calls C4 quartal and does not read Cø7, C(add9), Cmaj7b5 or C7sus4b9.
    const symbols = [
      ...['', 'm', 'aug', 'dim', '7', 'maj7', 'm7', 'dim7', 'm7b5', 'mMaj7', '6', 'm6', '6/9'],
      ...['9', 'maj9', 'm9', '11', 'maj13', '13', 'm11', 'm13', 'sus4', 'sus2', '5', '7sus4'],
      ...['7b9', '7#9', '7b5', '7#5', 'maj7#5', '7#11', 'add9', 'madd9', '9#11', '9b5'],
      ...['7b9#11', '7#5#9', 'm7add11', '7b13', '7no5', 'maj9#11', '9sus4', '+', '°7'],
    ];
    const differences: string[] = [];
    let compared = 0;
    for (const root of NOTES) {
      for (const symbol of symbols) {
        const theirs = TonalChord.get(root + symbol);
        const ours = ChordSymbol.read(root + symbol);
        if (!ours.ok) throw new Error(root + symbol);
        if (theirs.empty) differences.push(`${root}${symbol}: tonal does not read it`);
        // tonal goes past three accidentals; nobody reads those.
        if (theirs.notes.some((note) => /#{4}|b{4}/.test(note))) continue;
        const tones = ChordSymbol.tonesOf(ours.value);
        // tonal leaves out what is seldom played in a thirteenth; the schema's kinds have it.
        const all = theirs.notes.every((note) => tones.includes(note));
        const same = tones.length === theirs.notes.length || TALL.includes(symbol);
        if (!all || !same)
          differences.push(`${root}${symbol}: ${tones.join()} / ${theirs.notes.join()}`);
        compared += 1;
      }
    }
    expect(differences).toEqual([]);
    expect(compared).toBeGreaterThan(1500);
  });
});
