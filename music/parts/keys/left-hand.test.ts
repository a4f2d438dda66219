import { describe, expect, it } from 'vitest';
import { songOf } from '#test/support/small-abc.ts';
import { midiOf } from '../../pitch/pitch.ts';
import { QUARTER, type Note, type Score } from '../../score/score.ts';
import type { Player, Texture } from '../arrangement.ts';
import type { Part, Role } from '../part.ts';
import { build } from '../parts.ts';
import type { Rungs } from '../rungs.ts';

interface Asked {
  readonly left: Rungs['left'];
  readonly texture?: Texture;
  readonly team?: readonly Role[];
  readonly reach?: number;
}

function partOf(score: Score, { left, texture = 'held', team = [], reach = 12 }: Asked): Part {
  const rungs = { right: 2, left, pedal: 0, texture: 6 } as const;
  const player: Player = { id: 'p', name: 'Ines', role: 'keys', level: 'beginner', reach, rungs };
  const form = score.form.map((pass) => ({ ...pass, texture }));
  const key = score.keys[0]?.key ?? { tonic: 'C', mode: 'major' };
  const built = build(score, { key, tempo: null, density: 'bar', form }, player, { roles: team });
  if (!built.ok) throw new Error(JSON.stringify(built.problems));
  return built.value;
}

/** The song's own bars: `C2 4 | C3 4`, pitches and quarters, the introduction left out. */
function leftOf(part: Part): string {
  const start = part.score.sections.find(({ id }) => id === 'introduction')?.to ?? 0;
  const notes: readonly Note[] = part.score.voices.find(({ id }) => id === 'left')?.notes ?? [];
  return notes
    .filter(({ at }) => at >= start)
    .map(({ pitches, length }) => `${pitches.join('+') || 'r'} ${length / QUARTER}`)
    .join(' | ');
}

const SONG = songOf('"C"c4|"F"A4|"G"B4|"C"c4|]', ['one two three four']);
const remarksOf = ({ directions }: Part) => directions.flatMap(({ words }) => words);

describe('the left hand on its rungs (common practice)', () => {
  it.each<[Rungs['left'], Texture, string]>([
    [1, 'held', 'C3 4 | F2 4 | G2 4 | C3 4'],
    [2, 'held', 'C2+C3 4 | F1+F2 4 | G1+G2 4 | C2+C3 4'],
    [3, 'held', 'C2 2 | C3 2 | F1 2 | F2 2 | G1 2 | G2 2 | C2 2 | C3 2'],
    [3, 'swaying', 'C2 2 | C3 2 | F1 2 | F2 2 | G1 2 | G2 2 | C2 2 | C3 2'],
    [
      4,
      'every beat',
      'C2 1 | G2 1 | C3 1 | G1 1 | F1 1 | C2 1 | F2 1 | F1 1 | G1 1 | D2 1 | G2 1 | B1 1 | C2 1 | G2 1 | C3 1 | G2 1',
    ],
  ])('rung %i, %s', (left, texture, expected) => {
    expect(leftOf(partOf(SONG, { left, texture }))).toBe(expected);
  });

  it('with a bass player it plays single notes above the low octave, and says in which bars that is so', () => {
    for (const left of [1, 2, 3, 4] as const) {
      const alone = partOf(SONG, { left, texture: 'every beat' });
      const part = partOf(SONG, { left, texture: 'every beat', team: ['keys', 'bass'] });
      const notes = part.score.voices.find(({ id }) => id === 'left')?.notes ?? [];
      for (const { pitches } of notes) {
        expect(pitches.length).toBeLessThan(2);
        for (const pitch of pitches) expect(midiOf(pitch)).toBeGreaterThanOrEqual(midiOf('F2'));
      }
      const said = remarksOf(part).find((words) => words.startsWith('there is a bass'));
      const isOther = leftOf(alone) !== leftOf(part);
      expect(said !== undefined).toBe(isOther);
      if (left > 1)
        expect(said).toBe('there is a bass this week, so the left hand stays light all through');
      expect(remarksOf(alone).some((words) => words.startsWith('there is a bass'))).toBe(false);
    }
  });

  it('with a bass player it holds roots for their bar, on the fourth rung with the fifth above where there is room', () => {
    const team = ['keys', 'bass'] as const;
    for (const left of [1, 2, 3] as const) {
      const part = partOf(SONG, { left, texture: 'every beat', team });
      expect(leftOf(part)).toBe('C3 4 | F2 4 | G2 4 | C3 4');
      expect(remarksOf(part)).toContain('left hand: single roots; the bass has the low notes');
    }
    const fourth = partOf(SONG, { left: 4, texture: 'held', team });
    expect(leftOf(fourth)).toMatch(/F2 2 \| C3 2 \| G2 2 \| D3 2/);
    expect(remarksOf(fourth)).toContain(
      'left hand: roots, and the fifth above where there is room; the bass has the low notes',
    );
  });

  it('says what is played and nothing else', () => {
    const lineOf = (asked: Asked) =>
      remarksOf(partOf(SONG, asked)).filter((words) => words.startsWith('left hand'));
    expect(lineOf({ left: 4, texture: 'held' })).toEqual(['left hand: root and fifth']);
    expect(lineOf({ left: 4, texture: 'swaying' })).toEqual(['left hand: root and octave']);
    expect(lineOf({ left: 4, texture: 'every beat' })).toEqual([
      'left hand: root, fifth and octave, with steps into the next chord',
    ]);
    expect(lineOf({ left: 2, reach: 10 })).toEqual(['left hand: roots']);
  });

  it('keeps the pulse from a leading texture on where there are no drums, and leaves it to them', () => {
    const moments = (team: readonly Role[]) =>
      leftOf(partOf(SONG, { left: 3, texture: 'leading', team })).split('|').length;
    expect(moments(['keys'])).toBe(16);
    expect(moments(['keys', 'drums'])).toBe(8);
  });

  it('a hand that does not reach an octave has single notes, and says so', () => {
    const part = partOf(SONG, { left: 2, reach: 10 });
    expect(leftOf(part)).toBe(leftOf(partOf(SONG, { left: 1, reach: 10 })));
    expect(remarksOf(part)).toContain(
      'an octave is wider than Ines’s hand (10 half steps): the left hand plays single notes',
    );
  });

  it('a written bass that is not the root has its octave and no fifth', () => {
    const song = songOf('"C/E"c4|"C"c4|]', ['one two']);
    expect(leftOf(partOf(song, { left: 4, texture: 'held' }))).toMatch(
      /^E\d 2 \| E\d 2 \| C2 2 \| G2 2$/,
    );
  });
});
