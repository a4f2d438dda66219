import { describe, expect, it } from 'vitest';
import { hymn } from '#test/support/hymn.ts';
import { HYMN_FILES } from '#test/support/hymns.ts';
import { songOf } from '#test/support/small-abc.ts';
import { ofMove } from '../../hand/difficulty.ts';
import { of as knownOf } from '../../order/known.ts';
import { sayBeats } from '../../score/beat-words.ts';
import { QUARTER, type Score } from '../../score/score.ts';
import type { Player, Texture } from '../arrangement.ts';
import type { Part } from '../part.ts';
import { propose } from '../form/builds.ts';
import { build } from '../parts.ts';
import type { Rungs } from '../rungs.ts';
import { rightHandItem } from './part-difficulty-items.ts';
import { chordsPlayed, sayRate } from './part-difficulty-strikes.ts';
import { of, PART_LIMITS, PART_WEIGHTS, say, type PartDifficulty } from './part-difficulty.ts';

interface Asked {
  readonly rungs: Pick<Rungs, 'right' | 'left'>;
  readonly texture: Texture;
  readonly perMinute: number | null;
}

function partOf(score: Score, { rungs, texture, perMinute }: Asked): Part {
  const player: Player = {
    id: 'p',
    name: 'Ines',
    role: 'keys',
    level: 'beginner',
    reach: 12,
    rungs: { ...rungs, pedal: 0, texture: 6 },
  };
  const form = score.form.map((pass) => ({ ...pass, texture }));
  const key = score.keys[0]?.key ?? { tonic: 'C', mode: 'major' };
  const tempo = perMinute === null ? null : { beat: QUARTER, perMinute };
  const built = build(score, { key, tempo, density: 'bar', form }, player, { roles: ['keys'] });
  if (!built.ok) throw new Error(JSON.stringify(built.problems));
  return built.value;
}

const song = songOf('"C"c4|"F"A4|"G"B4|"C"c4|]', ['one two three four']);
const item = ({ items }: PartDifficulty, what: string) => items.find((each) => each.what === what);

describe('the difficulty of a part: by hand (four quarters to a bar at 120: a beat is half a second)', () => {
  const rungs = { right: 2, left: 2 } as const;
  const part = partOf(song, { rungs, texture: 'every beat', perMinute: 120 });
  const found = of(part, []);

  it('every beat is two strikes a second', () => {
    expect(item(found, 'strikes')).toMatchObject({
      words: expect.stringContaining('the right hand strikes twice a second in bar 1: ') as string,
      cost: 2 * PART_WEIGHTS.strikes,
    });
  });

  it('the hardest change of the right hand has a beat, from the last strike to the next', () => {
    const shapes = new Map(part.shapes.map((shape) => [shape.chord.root, shape]));
    const costs = ['C F', 'F G', 'G C'].map((pair) => {
      const [from, to] = pair.split(' ').map((root) => shapes.get(root as 'C'));
      return from && to ? ofMove(from, to, 1, 120).total : NaN;
    });
    const hardest = item(found, 'right hand');
    expect(hardest?.cost).toBe(Math.max(...costs));
    expect(hardest?.words).toMatch(
      /^[CFG] to [CFG] in bar [234]: .*, 1 beat at 120 a minute: 0\.5 seconds$/,
    );
  });

  it('octaves go seven half steps from C2 to F1', () => {
    expect(item(found, 'left hand')?.words).toContain('in bar 2, the hand goes seven half steps');
    expect(item(found, 'octaves in turn')).toBeUndefined();
  });

  it('octaves in turn on every beat change twice a second', () => {
    const turns = of(partOf(song, { rungs: { right: 2, left: 3 }, texture: 'every beat', perMinute: 120 }), []); // prettier-ignore
    expect(item(turns, 'octaves in turn')).toMatchObject({
      words: 'C2 and C3 in turn in bar 1, twice a second',
      cost: 2 * PART_WEIGHTS.octaves,
    });
  });

  it('without a tempo time is not counted', () => {
    const untimed = of(partOf(song, { rungs, texture: 'every beat', perMinute: null }), []);
    expect(item(untimed, 'strikes')).toBeUndefined();
    expect(item(untimed, 'right hand')?.words).toMatch(/, 1 beat$/);
    expect(untimed.total).toBeLessThan(found.total);
  });

  it('the first rung is weighed alike, with its left hand in one place', () => {
    const first = of(partOf(song, { rungs: { right: 1, left: 1 }, texture: 'held', perMinute: 60 }), []); // prettier-ignore
    expect(item(first, 'right hand')?.words).toMatch(/, 4 beats at 60 a minute: 4 seconds$/);
    expect(item(first, 'strikes')?.cost).toBe(PART_WEIGHTS.strikes / 4);
    expect(first.word).toBe('easy');
  });

  it('a broken chord leaves each finger the time until it is needed', () => {
    const broken = of(partOf(song, { rungs, texture: 'broken', perMinute: 60 }));
    // Low, middle, high, middle in eighths: the middle finger is last needed half a beat before the bar line and half a beat after it.
    expect(item(broken, 'right hand')?.words).toMatch(/, (0\.5 beats|1 beat) at 60 a minute/);
  });

  it('is said for somebody in one line, the dearest first', () => {
    // 1.25 and seven times 0.3125 for the left hand, which has all of two seconds.
    expect(item(found, 'left hand')?.cost).toBe(3.44);
    const faster = of(partOf(song, { rungs, texture: 'every beat', perMinute: 160 }), []);
    expect(say(faster, 'Ines')).toMatch(
      /^For Ines it takes practice: bar 4, from G to C in one beat; bar 1, the right hand strikes eight times in three seconds; bar 2, the left hand goes seven half steps in four beats\.$/,
    );
    expect(item(found, 'new shapes')?.brief).toBe('three shapes not played here yet: F, G and C');
    const { items, word } = of(partOf(song, { rungs: { right: 1, left: 1 }, texture: 'held', perMinute: 60 }), []); // prettier-ignore
    expect(say({ items, word }, 'Ines')).toBe(`For Ines it is easy; what asks most: ${items[0]?.brief}.`); // prettier-ignore
    expect(say({ items: [], word: 'easy' }, 'Ines')).toBe('For Ines it is easy.');
  });

  it('names a chord once where it moves to another place on the keys', () => {
    const [first, second] = chordsPlayed(part);
    if (!first || !second) throw new Error('four chords');
    const again = rightHandItem(part, [first, { ...second, chord: first.chord }], []);
    expect(again?.brief).toMatch(
      /^bar 2, within C from \S+ \S+ \S+ to \S+ \S+ \S+ in (one|two|three|four) beats?$/,
    );
  });

  it('names what is new, and what is known costs less', () => {
    expect(item(found, 'new shapes')?.words).toMatch(
      /^three shapes not played here yet: F \(F4 A4 C5\) in the introduction, G \(.*\) in the introduction and C \(.*\) in /,
    );
    const known = of(part, knownOf([{ song: 'other', part }]));
    expect(item(known, 'new shapes')).toBeUndefined();
    expect(item(known, 'right hand')?.cost).toBeCloseTo(
      (item(found, 'right hand')?.cost ?? 0) * PART_WEIGHTS.known,
      1,
    );
  });
});

describe.each(HYMN_FILES)('%s', (file) => {
  const asked = { rungs: { right: 3, left: 3 }, texture: 'leading' } as const;

  it('more time and more that is known never make it harder; the word is the limits', () => {
    const score = hymn(file);
    const [slow, fast] = [60, 100].map((perMinute) => partOf(score, { ...asked, perMinute }));
    if (!slow || !fast) throw new Error('two parts');
    const [easier, harder] = [of(slow, []), of(fast, [])];
    expect(easier.total).toBeLessThanOrEqual(harder.total);
    const some = knownOf([{ song: 'other', part: { shapes: fast.shapes.slice(0, 4) } }]);
    expect(of(fast, some).total).toBeLessThanOrEqual(harder.total);
    for (const { items, total, word } of [easier, harder]) {
      expect(total).toBeCloseTo(
        items.reduce((sum, { cost }) => sum + cost, 0),
        1,
      );
      const most = Math.max(...items.map(({ cost }) => cost));
      const fits = (limit: 'easy' | 'practice') =>
        most <= PART_LIMITS.item[limit] && total <= PART_LIMITS.total[limit];
      expect(word).toBe(fits('easy') ? 'easy' : fits('practice') ? 'takes practice' : 'hard');
      for (const { words } of items) expect(words).toMatch(/(bar \d+|the pickup|the introduction)/);
    }
  });

  it('what is said without knowing contradicts nothing that is said with it', () => {
    const score = hymn(file);
    for (const { rungs, texture } of [
      asked,
      { rungs: { right: 1, left: 1 }, texture: 'held' },
    ] as const) {
      const part = partOf(score, { rungs, texture, perMinute: 80 });
      const without = of(part);
      expect(without.items.map(({ what }) => what)).not.toContain('new shapes');
      const ways = [[], part.shapes.slice(0, 4), part.shapes].map((shapes) =>
        of(part, knownOf([{ song: 'other', part: { shapes } }])),
      );
      expect(without.word).toBe(ways[0]?.word === 'easy' ? 'easy' : null);
      if (without.word === 'easy') for (const { word } of ways) expect(word).toBe('easy');
      else expect(say(without, 'Ines')).toMatch(/^What asks most of Ines: [^;]*\d/);
    }
  });
});

/** Every step that is taken as a whole, and what is as full as its player plays it. */
const STEPS = [
  { rungs: { right: 1, left: 1 }, most: 1 },
  { rungs: { right: 2, left: 2 }, most: 4 },
  { rungs: { right: 3, left: 3 }, most: 6 },
  { rungs: { right: 4, left: 4 }, most: 6 },
] as const;
const WORDS = ['easy', 'takes practice', 'hard'] as const;

/** As a leader has it: the proposed build, at the tempo of the hymn. */
function onStep(file: string, tonic: string, step: (typeof STEPS)[number]): PartDifficulty {
  const score = hymn(file);
  const textures = propose(score);
  const form = score.form.map((pass, i) => ({ ...pass, texture: textures[i] ?? 'held' }));
  const key = { tonic, mode: score.keys[0]?.key.mode ?? 'major' } as const;
  const player: Player = {
    id: 'p',
    name: 'Ines',
    role: 'keys',
    level: 'beginner',
    reach: 12,
    rungs: { ...step.rungs, pedal: 0, texture: step.most },
  };
  const built = build(score, { key, tempo: score.tempo, density: 'bar', form }, player, { roles: ['keys'] }); // prettier-ignore
  if (!built.ok) throw new Error(JSON.stringify(built.problems));
  return of(built.value, []);
}

describe('times and rates in words', () => {
  it.each([
    [1, 'one beat'],
    [0.5, 'half a beat'],
    [1 / 3, 'a third of a beat'],
    [2 / 3, 'two thirds of a beat'],
    [0.75, 'three quarters of a beat'],
    [1.5, 'one and a half beats'],
    [4 / 3, 'one and a third beats'],
    [0.4, 'about half a beat'],
    [2.6, 'about two and a half beats'],
    [0.2, 'less than half a beat'],
  ])('%f beats: %s', (beats, words) => {
    expect(sayBeats(beats)).toBe(words);
  });

  it.each([
    [1, 'once a second'],
    [2, 'twice a second'],
    [2.5, 'five times in two seconds'],
    [8 / 3, 'eight times in three seconds'],
    [2 / 3, 'twice in three seconds'],
    [0.25, 'once in four seconds'],
    [0.1, 'once in ten seconds'],
    [1.96, 'about twice a second'],
  ])('%f a second: %s', (rate, words) => {
    expect(sayRate(rate)).toBe(words);
  });
});

describe('the hymns as they are played', () => {
  it('a plain hymn in an easy key is easy on the first rung (common practice: held shapes, a change a bar)', () => {
    const plain = ['Amazing_Grace-New_Britain.abc', 'Silent_Night-Stille_Nacht.abc', 'Be_Thou_My_Vision-Slane.abc']; // prettier-ignore
    for (const file of plain)
      for (const tonic of ['F', 'G', 'C'])
        expect(onStep(file, tonic, STEPS[0]).word, `${file} in ${tonic}`).toBe('easy');
    // Twelve shapes of which some change every half second are not.
    const busy = 'Praise_My_Soul_The_King_Of_Heaven-Praise_My_Soul-Lauda_Anima.abc';
    expect(onStep(busy, 'C', STEPS[0]).word).toBe('takes practice');
  });

  it('no more than one higher rung in twenty is said to be easier, and the words tell rungs apart', () => {
    const found = HYMN_FILES.flatMap((file) =>
      ['F', 'D'].map((tonic) => STEPS.map((step) => onStep(file, tonic, step))),
    );
    const places = found.map((rungs) =>
      rungs.map(({ word }) => (word === null ? NaN : WORDS.indexOf(word))),
    );
    const pairs = places.flatMap((rungs) =>
      rungs.slice(1).map((word, i) => word >= (rungs[i] ?? 0)),
    );
    expect(pairs.filter(Boolean).length / pairs.length).toBeGreaterThanOrEqual(0.95);
    const totals = found.flatMap((rungs) => rungs.slice(1).map(({ total }, i) => total >= (rungs[i]?.total ?? 0))); // prettier-ignore
    expect(totals.filter(Boolean).length / totals.length).toBeGreaterThanOrEqual(0.95);
    const share = (step: number, word: number) =>
      places.filter((rungs) => rungs[step] === word).length / places.length;
    expect(share(0, 0)).toBeGreaterThan(0.5);
    expect(share(3, 0)).toBe(0);
    expect(share(3, 2)).toBeGreaterThan(share(2, 2));
  });
});
