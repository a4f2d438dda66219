import { describe, expect, it } from 'vitest';
import { hymn } from '#test/support/hymn.ts';
import { HYMN_FILES } from '#test/support/hymns.ts';
import { songOf } from '#test/support/small-abc.ts';
import { midiOf } from '../../pitch/pitch.ts';
import type { Note, Score } from '../../score/score.ts';
import type { Player, Texture } from '../arrangement.ts';
import { TEXTURES } from '../arrangement.ts';
import type { Part } from '../part.ts';
import { build } from '../parts.ts';
import type { Rungs } from '../rungs.ts';

const STEPS = [1, 2, 3, 4] as const;

function partOf(score: Score, rungs: Rungs, textures: readonly Texture[]): Part {
  const player: Player = {
    id: 'p',
    name: 'Ines',
    role: 'keys',
    level: 'beginner',
    reach: 12,
    rungs,
  };
  const form = score.form.map((pass, i) => ({ ...pass, texture: textures[i % textures.length] ?? 'held' })); // prettier-ignore
  const key = score.keys[0]?.key ?? { tonic: 'C', mode: 'major' };
  const built = build(score, { key, tempo: null, density: 'bar', form }, player, {
    roles: ['keys'],
  });
  if (!built.ok) throw new Error(JSON.stringify(built.problems));
  return built.value;
}

const notesOf = (part: Part, hand: 'right' | 'left'): readonly Note[] =>
  part.score.voices.find(({ id }) => id === hand)?.notes ?? [];
const chordAt = ({ score }: Part, at: number) =>
  score.chords.find((each) => at >= each.at && at < each.at + each.length)?.chord;

describe('fingers over a whole part', () => {
  it.each(HYMN_FILES)('%s: pictures and notes have the same fingers', (file) => {
    for (const right of STEPS) {
      const left = STEPS[(right + HYMN_FILES.indexOf(file)) % 4] ?? 1;
      const part = partOf(hymn(file), { right, left, pedal: 0, texture: 6 }, TEXTURES);
      for (const { chord, notes, fingers } of part.shapes) {
        const keys = notes.map(midiOf);
        const isOnly = part.shapes.filter((other) => JSON.stringify(other.chord) === JSON.stringify(chord)).length === 1; // prettier-ignore
        // A fill has the fingers of its line, as the hand moves on with it.
        const there = notesOf(part, 'right').filter(
          ({ at, pitches, soft }) =>
            (isOnly && !(right === 4 && soft)
              ? pitches.length > 0
              : pitches.length === notes.length) &&
            pitches.every((pitch) => keys.includes(midiOf(pitch))) &&
            JSON.stringify(chordAt(part, at)) === JSON.stringify(chord),
        );
        for (const note of there)
          note.fingers?.forEach((finger, i) => {
            expect(finger).toBe(fingers[keys.indexOf(midiOf(note.pitches[i] ?? ''))]);
          });
      }
      // The same keys together, the same fingers.
      const met = new Map<string, string>();
      for (const note of notesOf(part, 'right')) {
        if (note.pitches.length < 2 || !note.fingers) continue;
        const sign = note.pitches.map(midiOf).join(' ');
        expect(note.fingers.join(' ')).toBe(met.get(sign) ?? note.fingers.join(' '));
        met.set(sign, note.fingers.join(' '));
      }
    }
  });

  it.each(HYMN_FILES)('%s: every note has a finger, shown where it is first struck', (file) => {
    const part = partOf(hymn(file), { right: 4, left: 4, pedal: 0, texture: 6 }, TEXTURES);
    for (const hand of ['right', 'left'] as const) {
      let isFirst = true;
      for (const { pitches, fingers } of notesOf(part, hand)) {
        if (pitches.length === 0) isFirst = true;
        else {
          if (isFirst) expect(fingers).toHaveLength(pitches.length);
          isFirst = false;
        }
      }
    }
  });

  it('what is met on the first rung keeps its fingers on the second', () => {
    for (const file of HYMN_FILES) {
      const [first, second] = [1, 2].map((step) => {
        const right = step === 1 ? 1 : 2;
        return partOf(hymn(file), { right, left: 1, pedal: 0, texture: 6 }, TEXTURES).shapes;
      });
      const said = (shapes: Part['shapes'] = []) =>
        shapes.map(({ notes, fingers }) => `${notes.join(' ')}: ${fingers.join('')}`).sort();
      expect(said(second)).toEqual(said(first));
    }
  });

  const said = (notes: readonly Note[]) =>
    notes.filter(({ pitches }) => pitches.length > 0).map(({ pitches, fingers }) => `${pitches.join('+')}${fingers ? ` ${fingers.join('')}` : ''}`).join(' | '); // prettier-ignore
  const song = songOf('"C"c4|"F"A4|"G"B4|"C"c4|]', ['one two three four']);
  const own = (part: Part, hand: 'right' | 'left') => {
    const start = part.score.sections.find(({ id }) => id === 'introduction')?.to ?? 0;
    return said(notesOf(part, hand).filter(({ at }) => at >= start));
  };

  it('root, fifth and octave are one grip, little finger, 2, thumb, which steps come into with 4 (common practice)', () => {
    const part = partOf(song, { right: 2, left: 4, pedal: 0, texture: 6 }, ['every beat']);
    expect(own(part, 'left')).toBe(
      'C2 5 | G2 2 | C3 1 | G1 4 | F1 5 | C2 2 | F2 1 | F1 | G1 4 | D2 2 | G2 1 | B1 5 | C2 4 | G2 2 | C3 1 | G2',
    );
  });

  it('single roots lie under one place of the hand', () => {
    const part = partOf(song, { right: 2, left: 1, pedal: 0, texture: 6 }, ['every beat']);
    expect(own(part, 'left')).toBe('C3 1 | F2 5 | G2 4 | C3 1');
  });
});
