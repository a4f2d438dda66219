import { describe, expect, it } from 'vitest';
import { HYMN_FILES } from '#test/support/hymns.ts';
import { hymn } from '#test/support/hymn.ts';
import { pitchClassesOf, say, write } from '../pitch/chord-symbol.ts';
import { readKey, type Key } from '../pitch/key.ts';
import { midiOf } from '../pitch/pitch.ts';
import type { Score } from '../score/score.ts';
import { arranged } from './arranged.ts';
import type { Arrangement, Player } from './arrangement.ts';
import { handCosts } from './in-key/hand-costs.ts';
import { introductionOf, withIntroduction } from './form/introduction.ts';
import type { Part } from './part.ts';
import { build } from './parts.ts';

const INES: Player = { id: 'ines', name: 'Ines', role: 'keys', level: 'beginner', reach: 12 };
const GRACE = 'Amazing_Grace-New_Britain.abc';

function arrangementIn(score: Score, tonic: string | null, density: 'bar' | 'beat'): Arrangement {
  const home = score.keys[0]?.key as Key;
  const key = tonic === null ? home : { ...(readKey(tonic) as Key), mode: home.mode };
  return { key, tempo: null, density };
}

function partOf(file: string, tonic: string | null = null, density: 'bar' | 'beat' = 'bar'): Part {
  const score = hymn(file);
  const built = build(score, arrangementIn(score, tonic, density), INES, { roles: [] });
  if (!built.ok) throw new Error(JSON.stringify(built.problems));
  return built.value;
}

const keysOf = (notes: readonly string[]) => notes.map(midiOf).join(' ');
const said = (part: Part, section: string) =>
  part.directions.find((each) => each.section === section)?.words;
const CASES = HYMN_FILES.flatMap((file) =>
  (['bar', 'beat'] as const).map((density) => ({ file, density })),
);

describe('a beginner, in every hymn', () => {
  it.each(CASES)(
    '$file, $density: has one shape per chord and plays roots',
    ({ file, density }) => {
      const part = partOf(file, null, density);
      const shapeOf = new Map<string, string>();
      for (const { chord, notes } of part.shapes) {
        const classes = [...pitchClassesOf(chord)].sort((a, b) => a - b).join();
        expect(shapeOf.get(classes) ?? keysOf(notes)).toBe(keysOf(notes));
        shapeOf.set(classes, keysOf(notes));
      }
      const names = part.shapes.map(({ chord }) => write(chord));
      expect(new Set(names).size).toBe(names.length);

      // The chord that sounds is the one that was read, without its bass: none is replaced.
      const score = hymn(file);
      const song = arranged(score, arrangementIn(score, null, density));
      const read = withIntroduction(song, introductionOf(song)).chords;
      for (const { at, length, chord } of part.score.chords) {
        expect(chord?.bass).toBeNull();
        const here = read.filter((each) => each.at < at + length && each.at + each.length > at);
        for (const each of here)
          expect(each.chord && write({ ...each.chord, bass: null })).toBe(chord && write(chord));
      }
    },
  );
});

describe('the summary', () => {
  it.each(['F', 'G', 'D', 'Bb'])(
    'names as many chords as it counts shapes: Amazing Grace in %s',
    (key) => {
      const part = partOf(GRACE, key);
      const names = part.shapes.map(({ chord }) => say(chord));
      expect(names).toHaveLength(4);
      expect(part.summary).toContain(`four shapes: ${names.join(', ')}; `);
    },
  );

  it('names the plain I, IV and V first where there are more than eight', () => {
    expect(
      partOf('Praise_My_Soul_The_King_Of_Heaven-Praise_My_Soul-Lauda_Anima.abc').summary,
    ).toMatch(
      /^eleven shapes: the main chords of the key, B♭, A♭ and E♭, with Cm, Dm7♭5 \(also Fm\), B♭7, G, Gm7, Gm, Cm7, F7; what asks most: /,
    );
  });

  it('names a written slash chord beside the chord whose shape it shares', () => {
    const score = hymn(GRACE);
    const chord = { root: 'G', kind: 'major', degrees: [], bass: null } as const;
    const half = Math.floor((score.bars.at(-1)?.at ?? 0) / 2);
    const whole = (score.bars.at(-1)?.at ?? 0) + (score.bars.at(-1)?.length ?? 0);
    const chords = [
      { at: 0, length: half, chord },
      { at: half, length: whole - half, chord: { ...chord, bass: 'B' } },
    ];
    const built = build({ ...score, chords }, arrangementIn(score, 'G', 'bar'), INES, {
      roles: [],
    });
    expect(built.ok && built.value.summary).toMatch(
      /^one shape: G \(also G\/B\); the right hand never moves; /,
    );
  });
});

describe('the margin', () => {
  it('says what to do once, in a few words, where it is first needed', () => {
    const part = partOf(GRACE, 'G');
    expect(part.directions.map(({ words }) => words)).toEqual([
      ['bars 13–16; the singers rest'],
      ['hold; strike again on 1', 'left hand stays: 5 on C, 4 on D, 3 on E, thumb on G'],
    ]);
  });

  it('says where the left hand shifts', () => {
    expect(said(partOf('Holy_Holy_Holy-Nicaea.abc', 'F'), 'verse')?.[1]).toBe(
      'left hand: 5 on B♭; shifts in bar 14',
    );
  });

  it.each(HYMN_FILES)('has at most three lines of at most 60 letters: %s', (file) => {
    const lines = partOf(file).directions.map(({ words }) => words);
    for (const words of lines) {
      expect(words.length).toBeLessThanOrEqual(3);
      for (const line of words) expect(line.length).toBeLessThanOrEqual(60);
    }
    expect(new Set(lines.flat()).size).toBe(lines.flat().length);
  });
});

describe('what a key costs the hands', () => {
  it.each(HYMN_FILES)('is weighed on the shapes that the sheet prints: %s', (file) => {
    const score = hymn(file);
    const costIn = handCosts(score, arrangementIn(score, null, 'bar'), INES);
    for (const tonic of ['F', 'Ab', 'E']) {
      const part = partOf(file, tonic);
      const cost = costIn(arrangementIn(score, tonic, 'bar').key);
      if (!cost.ok) throw new Error(JSON.stringify(cost.problems));
      expect(cost.shapes).toBe(new Set(part.shapes.map(({ notes }) => keysOf(notes))).size);
      expect(cost.motion).toBe(part.moves.reduce((sum, { motion }) => sum + motion, 0));
      const hardest = Math.max(0, ...part.moves.map(({ difficulty }) => difficulty));
      expect(cost.hardest?.total ?? 0).toBeCloseTo(hardest, 9);
    }
  });
});
