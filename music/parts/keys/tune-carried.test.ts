import { describe, expect, it } from 'vitest';
import { songOf } from '#test/support/small-abc.ts';
import { ofShape } from '../../hand/fingering.ts';
import { QUARTER, type Note } from '../../score/score.ts';
import type { Texture } from '../arrangement.ts';
import { playedChords } from '../played-chords.ts';
import type { Rungs } from '../rungs.ts';
import { inTexture } from './in-texture.ts';
import { withTuneCarried } from './tune-carried.ts';

/** The tune on top, in closed shapes. */
const SHAPES: Readonly<Record<string, readonly string[]>> = {
  C: ['E4', 'G4', 'C5'],
  F: ['F4', 'A4', 'C5'],
};

interface Options {
  readonly texture?: Texture;
  readonly right?: Rungs['right'];
  readonly meter?: string;
  readonly tempo?: string;
  readonly reach?: number;
}

function play(
  music: string,
  { texture = 'held', right = 3, meter = '4/4', tempo = '1/4=60', reach = 12 }: Options = {},
): string {
  const score = songOf(music, [], `M:${meter}\nL:1/8${tempo ? `\nQ:${tempo}` : ''}`);
  const chords = playedChords(score);
  const held = chords.map(({ chord }) => {
    const notes = SHAPES[chord.root] ?? [];
    return { notes, fingers: ofShape(notes, 'right') };
  });
  const song = {
    score,
    chords,
    textureAt: () => texture,
    rungsAt: (): Rungs => ({ right, left: 1, pedal: 0, texture: 6 }),
    player: { name: 'Ines', reach },
  };
  const notes = inTexture(song, { hand: 'right', held, textureAt: () => texture });
  return written(withTuneCarried(song, held, notes));
}

/** `EGC4 (G4) r2`: letters, lengths in eighths, soft notes in brackets. */
function written(notes: readonly Note[]): string {
  return notes
    .map(({ pitches, length, soft }) => {
      const names = pitches.length === 0 ? 'r' : pitches.map((pitch) => pitch.charAt(0)).join('');
      const what = `${names}${(length * 2) / QUARTER}`;
      return soft ? `(${what})` : what;
    })
    .join(' ');
}

describe('the tune carried on', () => {
  it('strikes with the tune what is a note of the chord and leaves the rest to the singers', () => {
    expect(play('"C"c4G4|"F"c4B4|"C"c2G2E2G2|]')).toBe('EGC4 (G4) FAC8 EGC4 (E2) (G2)');
  });

  it('hears the chord for half of the time at least', () => {
    expect(play('"C"c2G6|"C"c6G2|]')).toBe('EGC8 EGC6 (G2)');
  });

  it('reaches above the shape as far as the hand does', () => {
    expect(play('"C"c4e4|]')).toBe('EGC4 (E4)');
    expect(play('"C"c4e4|]', { reach: 9 })).toBe('EGC8');
    expect(play('"C"c4g4|]')).toBe('EGC8');
    // On the fourth rung the little finger goes on by a fourth where the thumb lets go.
    expect(play('"C"c4e4|]', { reach: 9, right: 4 })).toBe('EGC4 (E4)');
    expect(play('"C"c4C4|]')).toBe('EGC8');
  });

  it('strikes between the beats in a calm tempo alone, and nowhere without one', () => {
    const music = '"C"c4c3G|"C"c8|]';
    expect(play(music, { tempo: '1/4=75' })).toBe('EGC7 (G1) EGC8');
    expect(play(music, { tempo: '1/4=76' })).toBe('EGC8 EGC8');
    expect(play(music, { tempo: '' })).toBe('EGC8 EGC8');
    expect(play('"C"c4G4|]', { tempo: '' })).toBe('EGC4 (G4)');
  });

  it('strikes nothing that is a half step from what is sung while it lasts', () => {
    expect(play('"C"c4E2F2|]')).toBe('EGC8');
    expect(play('"C"c4E2D2|]')).toBe('EGC4 (E4)');
  });

  it('strikes no note again that still sounds', () => {
    expect(play('"C"c4B2c2|"C"c4c4|]')).toBe('EGC8 EGC8');
  });

  it.each<[Texture, string]>([
    ['held', 'EGC4 (G4)'],
    ['answered', 'EGC4 (G4)'],
    ['leading', 'EGC4 (G2) EGC2'],
    ['every beat', 'EGC2 EGC2 EGC2 EGC2'],
    ['swaying', 'r2 EGC2 (G2) EGC2'],
    ['broken', 'E1 G1 C1 G1 E1 G1 C1 G1'],
  ])('waits for the hand to be free: %s, %s', (texture, expected) => {
    expect(play('"C"c4G4|]', { texture })).toBe(expected);
  });

  it('is nothing for the first two rungs', () => {
    expect(play('"C"c4G4|]', { right: 2 })).toBe('EGC8');
  });
});
