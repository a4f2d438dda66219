import { readFileSync } from 'node:fs';
import { beforeAll, describe, expect, it } from 'vitest';
import {
  Abc,
  Builds,
  ChordSymbol,
  Parts,
  Pitches,
  Time,
  type Note,
  type Part,
  type Player,
  type RungSteps as Steps,
  type Score,
} from '#music';
import { hymn } from '#test/support/hymn.ts';
import { HYMN_FILES } from '#test/support/hymns.ts';

/**
 * What is asked of the ladders at the keys, judged on the notes alone: in four songs of five a step is another part than the
 * one below it in when it strikes, how wide, and with which fingers. The songs are the hymns as published and the two of the demo,
 * each as the app proposes to build it up.
 */
const SHARE = 0.8;
const STEPS = [1, 2, 3, 4] as const;
const DEMO = ['Carry_The_Morning.abc', 'Lamps_On_The_Water.abc'];

const midi = (pitch: string): number => Pitches.midiOf(pitch);

function demo(file: string): Score {
  const read = Abc.read(readFileSync(new URL(`../../seed-data/songs/${file}`, import.meta.url)));
  const score = read.ok ? read.value[0] : undefined;
  if (!score) throw new Error(file);
  return score;
}

function part(score: Score, rungs: Steps): Part {
  const player: Player = {
    id: 'p',
    name: 'Ines',
    role: 'keys',
    level: 'beginner',
    reach: 12,
    rungs,
  };
  const textures = Builds.propose(score);
  const form = score.form.map((pass, i) => ({ ...pass, texture: textures[i] ?? 'held' }));
  const key = score.keys[0]?.key;
  if (!key) throw new Error('a song has a key');
  const arrangement = { key, tempo: null, density: 'bar', form } as const;
  const built = Parts.build(score, arrangement, player, { roles: ['keys'] });
  if (!built.ok) throw new Error(JSON.stringify(built.problems));
  return built.value;
}

interface Struck {
  readonly at: number;
  readonly to: number;
  readonly keys: readonly number[];
  readonly fingers: readonly number[];
  readonly soft: boolean;
}

const notesOf = ({ score }: Part, id: string): readonly Note[] =>
  score.voices.find((each) => each.id === id)?.notes ?? [];

/** What a hand strikes; a finger that does not stand on the page is the one that stood on its key last. */
function struck(of: Part, hand: 'right' | 'left'): Struck[] {
  const last = new Map<number, number>();
  return notesOf(of, hand).flatMap(({ at, length, pitches, fingers, soft }) => {
    if (pitches.length === 0) return [];
    const keys = pitches.map(midi);
    keys.forEach((key, i) => {
      if (fingers?.[i] !== undefined) last.set(key, fingers[i]);
    });
    const own = keys.map((key) => last.get(key) ?? 0);
    return [{ at, to: at + length, keys, fingers: own, soft: soft === true }];
  });
}

type Look = (each: Struck) => string;
const LOOKS = {
  onsets: ({ at }) => String(at),
  spans: ({ at, keys }) => `${at}: ${Math.min(...keys)}–${Math.max(...keys)}`,
  fingers: ({ at, fingers }) => `${at}: ${fingers.join(' ')}`,
  notes: ({ at, keys }) => `${at}: ${keys.join(' ')}`,
} as const satisfies Record<string, Look>;

function differ(one: readonly Struck[], other: readonly Struck[], look: Look): boolean {
  const [a, b] = [new Set(one.map(look)), new Set(other.map(look))];
  return [...a].some((each) => !b.has(each)) || [...b].some((each) => !a.has(each));
}

/** What is struck at the moments at which another hand strikes too. */
function shared(one: readonly Struck[], other: readonly Struck[]): Struck[] {
  const moments = new Set(other.map(({ at }) => at));
  return one.filter(({ at }) => moments.has(at));
}

let ladders: { score: Score; parts: Part[]; right: Struck[][]; left: Struck[][] }[] = [];
beforeAll(() => {
  ladders = [...HYMN_FILES.map(hymn), ...DEMO.map(demo)].map((score) => {
    // The right hand goes its way whatever the left plays, so both climb together here.
    const parts = STEPS.map((step) =>
      part(score, { right: step, left: step, pedal: 0, texture: 6 }),
    );
    return {
      score,
      parts,
      right: parts.map((each) => struck(each, 'right')),
      left: parts.map((each) => struck(each, 'left')),
    };
  });
});

const share = (isSo: (ladder: (typeof ladders)[number]) => boolean): number =>
  ladders.filter(isSo).length / ladders.length;

describe.each([1, 2, 3])('the right hand on step %i and on the next', (step) => {
  const pair = ({ right }: (typeof ladders)[number]) =>
    [right[step - 1] ?? [], right[step] ?? []] as const;

  it.each(['onsets', 'spans', 'fingers'] as const)('differ in %s in four songs of five', (what) => {
    expect(share((ladder) => differ(...pair(ladder), LOOKS[what]))).toBeGreaterThanOrEqual(SHARE);
  });

  it('differ in all three of them in four songs of five', () => {
    const isOther = (ladder: (typeof ladders)[number]) =>
      [LOOKS.onsets, LOOKS.spans, LOOKS.fingers].every((look) => differ(...pair(ladder), look));
    expect(share(isOther)).toBeGreaterThanOrEqual(SHARE);
  });
});

// The first two steps hold the same shapes: there only the texture tells them apart.
describe.each([2, 3])('the right hand on step %i and on the next, where both strike', (step) => {
  it('holds other shapes with other fingers in four songs of five', () => {
    const isOther = ({ right }: (typeof ladders)[number]) => {
      const [one, other] = [right[step - 1] ?? [], right[step] ?? []];
      const both = [shared(one, other), shared(other, one)] as const;
      return [LOOKS.spans, LOOKS.fingers].every((look) => differ(...both, look));
    };
    expect(share(isOther)).toBeGreaterThanOrEqual(SHARE);
  });
});

describe.each([1, 2, 3])('the left hand on step %i and on the next', (step) => {
  it('differ in what they strike in four songs of five', () => {
    const isOther = ({ left }: (typeof ladders)[number]) =>
      differ(left[step - 1] ?? [], left[step] ?? [], LOOKS.notes);
    expect(share(isOther)).toBeGreaterThanOrEqual(SHARE);
  });
});

describe('the left hand', () => {
  it('goes from octaves together to octaves in turn on its third step', () => {
    const isOther = ({ left: [, second = [], third = []] }: (typeof ladders)[number]) =>
      differ(second, third, LOOKS.onsets) &&
      second.some(({ keys }) => keys.length > 1) &&
      third.every(({ keys }) => keys.length === 1);
    expect(share(isOther)).toBeGreaterThanOrEqual(SHARE);
  });
});

describe('the tune as the third step carries it', () => {
  /** What the third step strikes where the second, in the same texture, does not, and no chord of its own begins. */
  const carried = ({ parts, right: [, second = [], third = []] }: (typeof ladders)[number]) =>
    third.filter(
      ({ at }) =>
        second.every((each) => each.at !== at) &&
        !parts[2]?.score.chords.some((each) => each.at === at),
    );

  it('is one soft note of the chord that is sung there, never a half step from what is sung while it lasts', () => {
    let count = 0;
    for (const ladder of ladders) {
      const [, , third] = ladder.parts;
      if (!third) throw new Error('a ladder has four steps');
      const sung = notesOf(third, 'melody');
      const start = third.score.sections.find(({ id }) => id === 'introduction')?.to ?? 0;
      for (const { at, to, keys, soft } of carried(ladder)) {
        const [key = 0] = keys;
        const chord = third.score.chords.find(
          (each) => each.at <= at && at < each.at + each.length,
        );
        const tones = chord?.chord ? ChordSymbol.pitchClassesOf(chord.chord) : [];
        expect(keys).toHaveLength(1);
        expect(tones).toContain(key % 12);
        if (at < start) continue;
        count += 1;
        expect(soft).toBe(true);
        const begun = sung.find((note) => note.at === at)?.pitches.at(-1);
        expect(begun && midi(begun) % 12, `at ${at}`).toBe(key % 12);
        for (const note of sung.filter((each) => each.at < to && each.at + each.length > at))
          for (const pitch of note.pitches)
            expect([1, 11]).not.toContain(Math.abs(midi(pitch) - key) % 12);
      }
    }
    expect(count).toBeGreaterThan(ladders.length);
  });

  it('leaves the hand 0.4 seconds from strike to strike, an octave wide at most, the little finger above the shape', () => {
    for (const ladder of ladders) {
      const third = ladder.right[2] ?? [];
      const score = ladder.parts[2]?.score ?? ladder.score;
      for (const each of carried(ladder)) {
        const place = third.indexOf(each);
        const tempo = Time.tempoAt(score, each.at);
        if (!tempo) continue;
        const seconds = (ticks: number) => (ticks / tempo.beat) * (60 / tempo.perMinute);
        const next = third[place + 1]?.at ?? each.to;
        expect(seconds(next - each.at)).toBeGreaterThanOrEqual(0.399);
        expect(seconds(each.at - (third[place - 1]?.at ?? 0))).toBeGreaterThanOrEqual(0.399);
        const chord = third.slice(0, place).findLast(({ keys }) => keys.length > 1);
        const [key = 0] = each.keys;
        expect(key - (chord?.keys[0] ?? 0)).toBeLessThanOrEqual(12);
        // No finger comes to lie above the little one (common practice).
        if (key > (chord?.keys.at(-1) ?? key)) expect(each.fingers).toEqual([5]);
      }
    }
  });

  it('stays on the fourth step, unless a fill stands there or the hand does not reach it from its other shape', () => {
    let [all, stays] = [0, 0];
    for (const ladder of ladders) {
      const moments = new Set((ladder.right[3] ?? []).map(({ at }) => at));
      for (const { at } of carried(ladder)) {
        all += 1;
        if (moments.has(at)) stays += 1;
      }
    }
    expect(stays / all).toBeGreaterThanOrEqual(0.9);
  });
});

describe('the comparison', () => {
  it('finds no difference between a part and itself, and one note or finger that is another', () => {
    const [ladder] = ladders;
    const own = ladder?.right[2] ?? [];
    const [first] = own;
    if (!first) throw new Error('a part has notes');
    for (const look of Object.values(LOOKS)) expect(differ(own, [...own], look)).toBe(false);
    const changed = (change: Partial<Struck>) => [{ ...first, ...change }, ...own.slice(1)];
    expect(differ(own, changed({ at: first.at + 1 }), LOOKS.onsets)).toBe(true);
    expect(differ(own, changed({ keys: [20, 30] }), LOOKS.spans)).toBe(true);
    expect(differ(own, changed({ fingers: [9] }), LOOKS.fingers)).toBe(true);
  });
});
