import { describe, expect, it } from 'vitest';
import { songOf } from '#test/support/small-abc.ts';
import { QUARTER, type Note, type Score } from '../../score/score.ts';
import type { Player, Texture } from '../arrangement.ts';
import type { Part } from '../part.ts';
import { build } from '../parts.ts';
import type { OwnRungs } from '../rungs.ts';

function partOf(score: Score, rungs: OwnRungs, texture: Texture = 'held'): Part {
  const player: Player = {
    id: 'p',
    name: 'Ines',
    role: 'keys',
    level: 'beginner',
    reach: 12,
    rungs,
  };
  const key = score.keys[0]?.key ?? { tonic: 'C', mode: 'major' };
  const built = build(
    score,
    { key, tempo: null, density: 'bar', form: score.form.map((pass) => ({ ...pass, texture })) },
    player,
    {
      roles: [],
    },
  );
  if (!built.ok) throw new Error(JSON.stringify(built.problems));
  return built.value;
}

const notesOf = (part: Part, hand: string): readonly Note[] =>
  part.score.voices.find(({ id }) => id === hand)?.notes ?? [];

/** The song's own marks: `left 0 down`, quarters from its start. */
function marksOf(part: Part): string[] {
  const start = part.score.sections.find(({ id }) => id === 'introduction')?.to ?? 0;
  return ['left', 'right'].flatMap((hand) =>
    notesOf(part, hand)
      .filter(({ at, pedal }) => at >= start && pedal !== undefined)
      .map(({ at, pedal }) => `${hand} ${String((at - start) / QUARTER)} ${String(pedal)}`),
  );
}

const withoutPedal = (part: Part): Score => ({
  ...part.score,
  voices: part.score.voices.map((voice) => ({
    ...voice,
    notes: voice.notes.map(({ pedal: _, ...note }) => note),
  })),
});

const SONG = songOf('"C"c4|"F"A4|"F"A4|"G"B2"C"c2|]', ['one two three four five']);

describe('the pedal: one a chord, changed after it sounds (common practice; Banowetz 1985 quotes Liszt for it)', () => {
  it('goes down at the first chord and changes where the chord does, not where it is only struck again', () => {
    expect(marksOf(partOf(SONG, { pedal: 1 }))).toEqual([
      'left 0 change',
      'left 4 change',
      'left 12 change',
      'left 14 change',
    ]);
    const first = notesOf(partOf(SONG, { pedal: 1 }), 'left').find(({ pedal }) => pedal);
    expect(first).toMatchObject({ at: 0, pedal: 'down' });
  });

  it('is the first rung and nothing else, where nothing else is asked for', () => {
    const [plain, pedalled] = [partOf(SONG, {}), partOf(SONG, { pedal: 1 })];
    expect(withoutPedal(pedalled)).toEqual(plain.score);
    expect(pedalled.shapes).toEqual(plain.shapes);
    expect(pedalled.directions.flatMap(({ words }) => words)).toContain(
      'pedal: let the old one go as each new chord is struck, and press again just after it sounds',
    );
    expect(plain.rungs).toBeUndefined();
    expect(pedalled.rungs).toMatchObject({ right: 1, left: 1, pedal: 1 });
  });

  it('goes up where there is no chord, and down again with the next', () => {
    const song = songOf('"C"c4|"N.C."A4|"G"B4|"C"c4|]', ['one two three four']);
    expect(marksOf(partOf(song, { pedal: 1 })).slice(0, 4)).toEqual([
      'left 0 change',
      'left 4 up',
      'left 8 down',
      'left 12 change',
    ]);
  });

  it('goes up where the left hand steps outside the chord, so that no step blurs', () => {
    const song = songOf('"C"c4|"Am"A4|"G"B4|"C"c4|]', ['one two three four']);
    const part = partOf(song, { pedal: 1, right: 2, left: 4, texture: 6 }, 'every beat');
    // The step into A, a B, is not of C; that into G, an A, is of A minor.
    expect(marksOf(part).slice(0, 4)).toEqual([
      'left 0 change',
      'left 3 up',
      'left 4 down',
      'left 8 change',
    ]);
  });

  it('is for the sections that ask for it', () => {
    const song = songOf('P:A\n"C"c4|"F"A4|]\nP:B\n"G"B4|"C"c4|]', ['one two']);
    const [, second] = song.sections;
    if (!second) throw new Error('two sections');
    const part = partOf(song, { pedal: 1, sections: { [second.id]: { pedal: 0 } } });
    expect(marksOf(part)).toEqual(['left 0 change', 'left 4 change', 'left 8 up']);
    expect(part.directions.find(({ section }) => section === second.id)?.words).toContain(
      'without pedal',
    );
  });

  it('is pressed anew where a section begins with the chord before it', () => {
    const song = songOf('P:A\n"C"c4|"G"B4|]\nP:B\n"G"B4|"C"c4|]', ['one two']);
    expect(marksOf(partOf(song, { pedal: 1 }))).toEqual([
      'left 0 change',
      'left 4 change',
      'left 8 change',
      'left 12 change',
    ]);
  });
});
