import { describe, expect, it } from 'vitest';
import { buildScore } from '#test/support/score-builder.ts';
import { QUARTER, type Note, type Score } from '../score/score.ts';
import { apply } from './editing.ts';
import type { Edit } from './edit.ts';

const tune = buildScore({
  key: 'G',
  meter: '4/4',
  voices: { tune: 'G4 A4 B4:2 | C5:4 | D5:2~ D5:2 | r:4' },
  words: ['Praise the Lord, * sing on'],
});

const beat = (quarters: number): number => quarters * QUARTER;

function edited(score: Score, edit: Edit): Score {
  const result = apply(score, edit);
  if (!result.ok) throw new Error(result.problems[0]?.message);
  return result.value;
}

function refusal(score: Score, edit: Edit): string {
  const result = apply(score, edit);
  return result.ok ? 'done' : (result.problems[0]?.message ?? '');
}

/** `G4:1 r:2~`: the notes from a bar on, in quarters. */
function told(score: Score, from = 0, to = Infinity): string {
  const notes = score.voices[0]?.notes ?? [];
  return notes
    .filter(({ at }) => at >= beat(from) && at < beat(to))
    .map(({ pitches, length, tie }: Note) => {
      const name = pitches.length === 0 ? 'r' : pitches.join('+');
      return `${name}:${length / QUARTER}${tie ? '~' : ''}`;
    })
    .join(' ');
}

const note = (at: number, length: number, ...pitches: string[]): Edit => ({
  do: 'note',
  voice: 'tune',
  at: beat(at),
  length: beat(length),
  pitches,
});

describe('a note that is written', () => {
  it('cuts what began before, takes away what begins inside, leaves a rest of what lasts beyond', () => {
    expect(told(edited(tune, note(3, 1, 'E4')), 0, 4)).toBe('G4:1 A4:1 B4:1 E4:1');
    expect(told(edited(tune, note(0, 3, 'E4')), 0, 4)).toBe('E4:3 r:1');
    expect(told(edited(tune, note(0.5, 1, 'E4')), 0, 4)).toBe('G4:0.5 E4:1 r:0.5 B4:2');
  });

  it('is tied over the bar line', () => {
    expect(told(edited(tune, note(3, 2, 'E4')), 0, 8)).toBe('G4:1 A4:1 B4:1 E4:1~ E4:1 r:1 r:2');
  });

  it('leaves nothing of a tied note whose beginning it takes', () => {
    expect(told(edited(tune, note(8, 1, 'E4')), 8, 12)).toBe('E4:1 r:1 r:2');
  });

  it('keeps the words of its place, and a rest has none', () => {
    const higher = edited(tune, note(0, 1, 'C5')).voices[0]?.notes[0];
    expect(higher?.syllables?.[0]?.text).toBe('Praise');
    const silent = edited(tune, note(0, 1)).voices[0]?.notes[0];
    expect(silent).toEqual({ at: 0, length: QUARTER, pitches: [] });
  });

  it('stands low to high, each pitch once', () => {
    expect(told(edited(tune, note(0, 1, 'D5', 'G4', 'D5')), 0, 1)).toBe('G4+D5:1');
  });

  it('is refused with bar and beat where it cannot stand', () => {
    expect(refusal(tune, note(14, 3, 'G4'))).toBe(
      'Bar 4, beat 3: this note lasts longer than the song. Put bars at the end first.',
    );
    expect(refusal(tune, note(20, 1, 'G4'))).toBe('That place lies outside the song.');
    expect(refusal(tune, note(0, 1, 'H4'))).toBe(
      '"H4" is not a note with its octave, such as A3 or Bb4.',
    );
    expect(refusal(tune, note(1, 0, 'G4'))).toBe('Bar 1, beat 2: a note lasts some time.');
    expect(refusal({ ...tune, untimed: true }, note(0, 1, 'G4'))).toMatch(/Give it time first/);
  });
});

describe('a note that is erased or changed', () => {
  it('becomes a rest whole, ties and all; a bar without notes is one rest', () => {
    const erased = edited(tune, { do: 'erase', voice: 'tune', at: beat(10) });
    expect(told(erased, 8, 12)).toBe('r:4');
    expect(refusal(tune, { do: 'erase', voice: 'tune', at: beat(13) })).toBe(
      'Bar 4, beat 2: there is only a rest.',
    );
  });

  it('takes other pitches and keeps length, ties and words', () => {
    const changed = edited(tune, { do: 'pitch', voice: 'tune', at: beat(11), pitches: ['E5'] });
    expect(told(changed, 8, 12)).toBe('E5:2~ E5:2');
  });

  it('is tied only to the same note', () => {
    expect(refusal(tune, { do: 'tie', voice: 'tune', at: 0, on: true })).toMatch(/not the same/);
    const off = edited(tune, { do: 'tie', voice: 'tune', at: beat(8), on: false });
    expect(told(off, 8, 12)).toBe('D5:2 D5:2');
    expect(edited(off, { do: 'tie', voice: 'tune', at: beat(8), on: true })).toEqual(tune);
  });

  it('a slur grows by the next note and is taken away from anywhere under it', () => {
    const slur = (at: number, on: boolean): Edit => ({ do: 'slur', voice: 'tune', at: beat(at), on }); // prettier-ignore
    const two = edited(tune, slur(0, true));
    const three = edited(two, slur(1, true));
    expect(three.voices[0]?.notes.map(({ slurStarts = 0, slurEnds = 0 }) => slurStarts - slurEnds).slice(0, 4)).toEqual([1, 0, -1, 0]); // prettier-ignore
    expect(edited(three, slur(1, false))).toEqual(tune);
    expect(edited(three, note(2, 1, 'C5')).voices[0]?.notes[0]).not.toHaveProperty('slurStarts');
  });
});
