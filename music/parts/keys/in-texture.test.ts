import { describe, expect, it } from 'vitest';
import { songOf } from '#test/support/small-abc.ts';
import { ofShape } from '../../hand/fingering.ts';
import { midiOf } from '../../pitch/pitch.ts';
import { QUARTER, type Note } from '../../score/score.ts';
import { TEXTURES, type Texture } from '../arrangement.ts';
import { playedChords } from '../played-chords.ts';
import { inTexture } from './in-texture.ts';

const SHAPES: Readonly<Record<string, readonly string[]>> = {
  C: ['C4', 'E4', 'G4'],
  F: ['C4', 'F4', 'A4'],
  G: ['B3', 'D4', 'G4'],
};

function play(music: string, texture: Texture, hand: 'right' | 'left' = 'right', meter = '4/4') {
  const score = songOf(music, [], `M:${meter}\nL:1/8`);
  const chords = playedChords(score);
  const held = chords.map(({ chord }) => {
    const notes = SHAPES[chord.root] ?? [];
    return { notes, fingers: ofShape(notes, hand) };
  });
  const notes = inTexture({ score, chords }, { hand, held, textureAt: () => texture });
  return { score, notes };
}

/** `CEG4 Gsoft4 r2`: pitch letters, lengths in eighths, bar by bar. */
function written(notes: readonly Note[]): string {
  return notes
    .map(({ pitches, length, soft }) => {
      const names = pitches.length === 0 ? 'r' : pitches.map((pitch) => pitch.charAt(0)).join('');
      return `${names}${soft ? ' soft ' : ''}${(length * 2) / QUARTER}`;
    })
    .join(' ');
}

describe('a hand in a texture', () => {
  it.each<[Texture, string]>([
    ['held', 'CEG8 CFA4 BDG4'],
    ['answered', 'CEG4 C soft 4 CFA4 BDG4'],
    ['leading', 'CEG6 CEG2 CFA4 BDG2 BDG2'],
    ['every beat', 'CEG2 CEG2 CEG2 CEG2 CFA2 CFA2 BDG2 BDG2'],
    ['swaying', 'r2 CEG4 CEG2 r2 CFA2 r2 BDG2'],
    ['broken', 'C1 E1 G1 E1 C1 E1 G1 E1 C1 F1 A1 F1 B1 D1 G1 D1'],
  ])('%s: right hand %s', (texture, expected) => {
    expect(written(play('"C"c8|"F"c4"G"B4|]', texture).notes)).toBe(expected);
  });

  it.each<[Texture, string]>([
    ['held', 'CEG8 CFA4 BDG4'],
    ['swaying', 'CEG4 CEG4 CFA4 BDG4'],
  ])('%s: the left hand strikes each chord at once: %s', (texture, expected) => {
    expect(written(play('"C"c8|"F"c4"G"B4|]', texture, 'left').notes)).toBe(expected);
  });

  it('a chord that no strike falls into, or too short to be broken, is struck whole as it begins', () => {
    expect(written(play('"C"c7"G"B1|"C"c8|]', 'swaying').notes)).toBe(
      'r2 CEG4 CEG1 BDG1 r2 CEG4 CEG2',
    );
    expect(written(play('"C"c6"G"B2|"C"c8|]', 'broken').notes)).toBe(
      'C1 E1 G1 E1 C1 E1 BDG2 C1 E1 G1 E1 C1 E1 G1 E1',
    );
  });

  it('rests where there is no chord', () => {
    expect(written(play('c8|"C"c4c4|]', 'every beat').notes)).toBe('r8 CEG2 CEG2 CEG2 CEG2');
  });

  it('each note of a shape has its finger where it is first struck', () => {
    const fingers = play('"C"c8|"C"c8|"F"c8|]', 'broken').notes.map((note) => note.fingers);
    const own = [[1], [3], [5], undefined];
    const none = Array<undefined>(12).fill(undefined);
    expect(fingers).toEqual([...own, ...none, ...own, undefined, undefined, undefined, undefined]);
  });

  it('notes with flags are beamed beat by beat', () => {
    const beams = (meter: string) =>
      play('"C"c6|"C"c6|]', 'broken', 'right', meter).notes.map(({ beam }) => (beam ? 'b' : '.'));
    expect(beams('3/4').join('')).toBe('b.b.b.b.b.b.');
    expect(beams('6/8').join('')).toBe('bb.bb.bb.bb.');
  });

  it.each(['4/4', '3/4', '6/8', '9/8', '2/2', '5/4'])(
    '%s: every bar is full and every chord sounds complete in every texture',
    (meter) => {
      const eighths = { '4/4': 8, '3/4': 6, '6/8': 6, '9/8': 9, '2/2': 8, '5/4': 10 }[meter] ?? 8;
      const music = `"C"c${eighths}|"F"c2"G"B${eighths - 2}|"C"c${eighths - 1}"F"A1|"G"B${eighths}|]`;
      for (const texture of TEXTURES) {
        const { score, notes } = play(music, texture, 'right', meter);
        let at = 0;
        for (const note of notes) {
          expect(note.at).toBe(at);
          at += note.length;
        }
        expect(at).toBe(score.bars.reduce((sum, { length }) => sum + length, 0));
        for (const { at: from, length, chord } of playedChords(score)) {
          const sounding = notes.filter((note) => note.at >= from && note.at < from + length);
          const keys = new Set(sounding.flatMap(({ pitches }) => pitches.map(midiOf)));
          expect([...keys].sort((a, b) => a - b)).toEqual(SHAPES[chord.root]?.map(midiOf));
        }
      }
    },
  );
});
