import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { Fingering, type Hand, type PitchName } from '#music';
import { bruteFingers, costOf } from '#test/support/brute-fingers.ts';

const strikes = (text: string): PitchName[][] => text.split(' | ').map((each) => each.split(' '));
const said = (fingers: readonly (readonly number[])[]) => fingers.map((f) => f.join('')).join(' ');
const easiest = (text: string, hand: Hand) =>
  said(Fingering.ofPart(strikes(text), hand)[0]?.fingers ?? []);

describe('fingers of a whole part: published fingerings', () => {
  it('a line is fingered as the model of Parncutt et al. 1997 has it, with the published totals of fragments D and E', () => {
    const fragments = [
      ['C#4 E#4 D#4 F#4 E#4 G#4 F#4', '1323132', 12],
      ['A5 G#6 A6 E6 F6 C#6 D6 G#5', '14523152', 24],
    ] as const;
    for (const [line, fingers, total] of fragments) {
      const notes = line.split(' ').map((note) => [note]);
      const digits = [...fingers].map((each) => [Number(each)]);
      expect(Fingering.pointsOfPart(notes, digits, 'right').total).toBe(total);
      expect(Fingering.ofPart(notes, 'right')[0]?.total).toBeLessThanOrEqual(total);
    }
  });

  it('primary chords: I 1 3 5, IV 1 3 5, V7 1 4 5; left hand 5 3 1, 5 2 1, 5 2 1 (keyboard-proficiency handout of a university)', () => {
    expect(easiest('C4 E4 G4 | C4 F4 A4 | B3 F4 G4 | C4 E4 G4', 'right')).toBe('135 135 145 135');
    expect(easiest('C3 E3 G3 | C3 F3 A3 | B2 F3 G3 | C3 E3 G3', 'left')).toBe('531 521 521 531');
  });

  it('every broken chord of Beringer & Dunhill 1900 has the fingers printed there, alone and one form after another', () => {
    const file = new URL('./tables/beringer-dunhill-1900.csv', import.meta.url);
    const rows = readFileSync(file, 'utf8').split('\n').filter((line) => /^\w+_m\w+,/.test(line)); // prettier-ignore
    expect(rows).toHaveLength(24);
    for (const row of rows) {
      const [key = '', main = ''] = row.split(',');
      main.split('@').forEach((printed, i) => {
        const forms = doubledForms(key);
        const found = Fingering.ofPart(forms, i === 0 ? 'right' : 'left')[0]?.fingers ?? [];
        const wanted = printed.slice(0, 16).match(/.{4}/g) ?? [];
        expect(said(found), key).toBe(wanted.join(' '));
        const alone = forms.map((form) => Fingering.ofPart([form], i === 0 ? 'right' : 'left'));
        expect(
          alone.map(([way]) => said(way?.fingers ?? [])),
          key,
        ).toEqual(wanted);
      });
    }
  });
});

describe('fingers of a whole part: the way from strike to strike', () => {
  it.each<[string, string, Hand, string]>([
    ['a note of the chord keeps its finger', 'C4 E4 G4 | G4 | E4', 'right', '135 5 3'],
    ['a note between takes a free finger', 'C4 E4 G4 | D4 | C4 E4 G4', 'right', '135 2 135'],
    ['octaves go as they are', 'C2 C3 | F1 F2 | G1 G2', 'left', '51 51 51'],
    ['root, fifth and octave', 'C2 G2 C3 | F1 C2 F2', 'left', '521 521'],
  ])('%s: %s, %s hand: %s (common practice)', (...[, text, hand, fingers]) => {
    expect(easiest(text, hand)).toBe(fingers);
  });

  it('says what its points are made of', () => {
    const [way] = Fingering.ofPart(strikes('C4 E4 G4 | D4 F4 A4 | C5 E5 G5'), 'right');
    expect(way?.points).toEqual({
      'finger to another key': 3 * Fingering.CHORD_POINTS.moved,
      'hand put anew': Fingering.CHORD_POINTS.anew,
    });
  });

  it('refuses what no hand strikes', () => {
    for (const notes of [[], ['C4', 'D4', 'E4', 'F4', 'G4', 'A4'], ['C4', 'B#3']])
      expect(() => Fingering.ofPart([notes], 'right')).toThrow('five different keys');
  });
});

/** Shapes and single notes within a sixth or so, so that every rule comes up. */
const KEYS = 'C4 C#4 D4 Eb4 E4 F4 F#4 G4 Ab4 A4 Bb4 B4 C5 D5 E5'.split(' ');
const CHORDS = 'C4 E4 G4 | E4 G4 C5 | G3 C4 E4 | D4 F#4 A4 | C4 F4 A4 | B3 F4 G4 | F4 A4 C5 F5 | C4 E4 G4 C5 | E4 G4 | C4 A4 | F#4 C#5 | D4 G4 C5'; // prettier-ignore
const single = fc.constantFrom(...KEYS).map((note) => [note]);
const chord = fc.constantFrom(...strikes(CHORDS));
const hands = fc.constantFrom<Hand>('right', 'left');

describe('fingers of a whole part: all ways, tried one by one by rules that are written down once more', () => {
  it('are the easiest, ranked, of equals nearest the thumb', () => {
    fc.assert(
      fc.property(
        fc.array(fc.oneof(single, chord), { minLength: 1, maxLength: 4 }),
        hands,
        (part, hand) => {
          const found = Fingering.ofPart(part, hand, { most: 4 });
          const all = bruteFingers(part, hand, usualOf);
          expect(found.map(({ fingers, total }) => `${said(fingers)}: ${total}`)).toEqual(
            all.slice(0, 4).map(({ fingers, total }) => `${said(fingers)}: ${total}`),
          );
        },
      ),
      { numRuns: 150 },
    );
  });

  it('points are the same by either', () => {
    fc.assert(
      fc.property(fc.array(fc.oneof(single, chord), { maxLength: 12 }), hands, (part, hand) => {
        const [way] = Fingering.ofPart(part, hand);
        const fingers = way?.fingers ?? [];
        expect(way?.total).toBe(costOf(part, fingers, hand, usualOf));
        expect(Object.values(way?.points ?? {}).reduce((a, b) => a + b, 0)).toBe(way?.total);
      }),
      { numRuns: 100 },
    );
  });

  it('settled: the easiest of those that give the same keys the same fingers', () => {
    const few = fc.constantFrom(...strikes('C4 F#4 | E4 G4 | C4 E4 A4 B4 | D4 G4 C5'));
    fc.assert(
      fc.property(
        fc.array(fc.oneof(few, single, few), { minLength: 2, maxLength: 4 }),
        hands,
        (part, hand) => {
          const found = Fingering.settledOfPart(part, hand);
          const best = bruteFingers(part, hand, usualOf).find(({ fingers }) => {
            const met = new Map<string, string>();
            return part.every((notes, i) => {
              const [sign, here] = [notes.join(' '), fingers[i]?.join('') ?? ''];
              const before = met.get(sign) ?? here;
              met.set(sign, here);
              return notes.length === 1 || before === here;
            });
          });
          expect(found.proof).toBe('optimal');
          expect(`${said(found.fingers)}: ${found.total}`).toBe(
            `${said(best?.fingers ?? [])}: ${best?.total ?? ''}`,
          );
        },
      ),
      { numRuns: 100 },
    );
  });
});

/** The fingers taught for notes together: held against its own sources in `fingering.test.ts`. */
function usualOf(notes: readonly string[], hand: Hand): readonly number[] {
  return Fingering.ofShape(notes, hand);
}

/** `b_flat_minor` or `bflat_minor`: the four forms, root, third, fifth, root, lowest note doubled at the octave. */
function doubledForms(key: string): string[][] {
  const mode = key.slice(key.lastIndexOf('_') + 1);
  const name = key.slice(0, key.lastIndexOf('_')).replace('_', '');
  const at = ({ c: 0, d: 2, e: 4, f: 5, g: 7, a: 9, b: 11 })[name.charAt(0)] ?? 0; // prettier-ignore
  const root = 48 + at + (name.endsWith('flat') ? -1 : name.endsWith('sharp') ? 1 : 0);
  const third = mode === 'minor' ? 3 : 4;
  const tones = [0, third, 7, 12, 12 + third, 19, 24].map((each) => root + each);
  return [0, 1, 2, 3].map((form) => tones.slice(form, form + 4).map(nameOf));
}

const NAMES = ['C', 'C#', 'D', 'D#', 'E', 'F', 'F#', 'G', 'G#', 'A', 'A#', 'B'];
const nameOf = (key: number) => `${NAMES[key % 12] ?? ''}${Math.floor(key / 12) - 1}`;
