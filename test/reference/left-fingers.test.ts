import { describe, expect, it } from 'vitest';
import {
  Fingering,
  Keys,
  Parts,
  Pitches,
  TEXTURES,
  Time,
  type Note,
  type Part,
  type Player,
  type Role,
  type RungSteps as Steps,
  type Score,
  type Texture,
  type Voice,
} from '#music';
import { hymn } from '#test/support/hymn.ts';
import { HYMN_FILES } from '#test/support/hymns.ts';

interface Asked {
  readonly left: Steps['left'];
  readonly textures: readonly Texture[];
  readonly key?: string;
  readonly team?: readonly Role[];
}

function part(score: Score, { left, textures, key, team = ['keys'] }: Asked): Part {
  // The first rung of all ladders together is a part of its own.
  const rungs = { right: left === 1 ? 1 : 2, left, pedal: 0, texture: left === 1 ? 1 : 6 } as const;
  const player: Player = { id: 'p', name: 'Ines', role: 'keys', level: 'beginner', reach: 12, rungs }; // prettier-ignore
  const form = score.form.map((pass, i) => ({ ...pass, texture: textures[i % textures.length] ?? 'held' })); // prettier-ignore
  const home = score.keys[0]?.key;
  const asked = key === undefined ? home : Keys.readKey(key);
  if (!home || !asked) throw new Error('a hymn has a key');
  const arrangement = { key: { ...asked, mode: home.mode }, tempo: null, density: 'bar', form } as const; // prettier-ignore
  const built = Parts.build(score, arrangement, player, { roles: [...team] });
  if (!built.ok) throw new Error(JSON.stringify(built.problems));
  return built.value;
}

interface Single {
  readonly at: number;
  readonly pitch: string;
  readonly key: number;
  readonly finger: number;
}

/** Single notes of the left hand, row by row as nothing but a rest of a felt beat or notes together comes between. */
function rowsOf({ score }: Part): Single[][] {
  const notes: readonly Note[] = score.voices.find(({ id }) => id === 'left')?.notes ?? [];
  const last = new Map<number, number>();
  const rows: Single[][] = [[]];
  for (const { at, length, pitches, fingers } of notes) {
    const [pitch, ...others] = pitches;
    const isRest = pitch === undefined && length >= Time.feltBeat(Time.meterAt(score, at));
    if (isRest || others.length > 0) rows.push([]);
    pitches.forEach((each, i) => {
      const finger = fingers?.[i];
      if (finger !== undefined) last.set(Pitches.midiOf(each), finger);
    });
    if (pitch === undefined || others.length > 0) continue;
    const key = Pitches.midiOf(pitch);
    rows.at(-1)?.push({ at, pitch, key, finger: last.get(key) ?? 0 });
  }
  return rows;
}

const OCTAVE = 12;
const THIRD = 4;

/** One finger on two keys within a third, and fingers that cross without the thumb, each with its bar. */
function faultsOf(of: Part): string[] {
  return rowsOf(of).flatMap((row) =>
    row.flatMap((note, i) => {
      const before = row[i - 1];
      const where = `bar ${Time.barAt(of.score, note.at).number}: ${before?.pitch ?? ''} ${before?.finger ?? ''}, ${note.pitch} ${note.finger}`;
      if (note.finger < 1 || note.finger > 5) return [`no finger, ${where}`];
      if (!before || before.key === note.key) return [];
      const far = Math.abs(note.key - before.key);
      if (far <= THIRD && note.finger === before.finger) return [`one finger, ${where}`];
      const [low, high] = note.key < before.key ? [note, before] : [before, note];
      const crosses = low.finger < high.finger && low.finger !== 1;
      return far <= OCTAVE && crosses ? [`fingers cross, ${where}`] : [];
    }),
  );
}

const GRACE = 'Amazing_Grace-New_Britain.abc';
const CORONATION = 'All_Hail_The_Power_Of_Jesus_Name-Coronation.abc';

/**
 * Stepping lines of the fourth rung, by section and first bar, with a teacher's fingers (a teacher's hand fingering, common
 * practice). Another way is as good where it has no more points by the rules of Parncutt et al. 1997.
 */
const TEACHER = [
  [GRACE, 'F', 0, 6, 'F2 D2 C2', [2, 4, 5]],
  [GRACE, 'F', 0, 14, 'F2 D2 C2', [2, 4, 5]],
  [GRACE, 'F', 0, 3, 'D2 C2 Bb1', [3, 4, 5]],
  [GRACE, 'F', 0, 13, 'D2 E2 F2', [5, 4, 3]],
  [GRACE, 'F', 1, 6, 'F2 D2 C2', [2, 4, 5]],
  [GRACE, 'F', 1, 3, 'D2 C2 Bb1', [3, 4, 5]],
  [CORONATION, 'Eb', 0, 9, 'Bb1 D2 Eb2', [5, 3, 2]],
] as const;

describe('stepping lines of the left hand', () => {
  it.each(TEACHER)(
    '%s in %s, section %i, bar %i: %s',
    (...[file, key, turn, bar, text, taught]) => {
      const built = part(hymn(file), { left: 4, textures: ['held', 'every beat'], key });
      const { score } = built;
      const section = score.sections.filter(({ id }) => id !== 'introduction')[turn];
      const from = score.bars.find(
        ({ at, number }) => number === bar && at >= (section?.from ?? 0),
      );
      const pitches = text.split(' ');
      const found = rowsOf(built)
        .flat()
        .filter(({ at }) => at >= (from?.at ?? 0))
        .slice(0, pitches.length);
      expect(found.map(({ pitch }) => pitch)).toEqual(pitches);
      const fingers = found.map(({ finger }) => finger);
      expect(new Set(fingers).size).toBe(fingers.length);
      const points = (each: readonly number[]) => Fingering.pointsOf(pitches, each, 'left').total;
      expect(points(fingers), fingers.join(' ')).toBeLessThanOrEqual(points(taught));
    },
  );
});

const TEAMS: readonly (readonly Role[])[] = [['keys'], ['keys', 'bass']];

describe.each(HYMN_FILES)('left hand of %s', (file) => {
  it('never has one finger on two keys within a third, nor fingers that cross without the thumb', () => {
    const turn = HYMN_FILES.indexOf(file);
    const textures = [0, 1 + (turn % 5)].map((each) => TEXTURES[(turn + each) % TEXTURES.length] ?? 'held'); // prettier-ignore
    for (const team of TEAMS)
      for (const left of [1, 2, 3, 4] as const)
        expect(faultsOf(part(hymn(file), { left, textures, team })), `${left} ${team.join()}`).toEqual([]); // prettier-ignore
  });
});

describe('the judge of fingers', () => {
  it('finds one finger on neighbouring keys, and fingers that cross', () => {
    const built = part(hymn(GRACE), { left: 4, textures: ['held'], key: 'F' });
    const with5 = (finger: number, other: number): Part => ({
      ...built,
      score: {
        ...built.score,
        voices: [
          {
            ...(built.score.voices[2] as Voice),
            notes: [
              { at: 0, length: 1, pitches: ['D2'], fingers: [finger] },
              { at: 1, length: 1, pitches: ['E2'], fingers: [other] },
            ],
          },
        ],
      },
    });
    expect(faultsOf(with5(5, 5))).toHaveLength(1);
    expect(faultsOf(with5(3, 4))).toHaveLength(1);
    expect(faultsOf(with5(5, 4))).toEqual([]);
    expect(faultsOf(with5(1, 3))).toEqual([]);
  });
});
