import { describe, expect, it } from 'vitest';
import { hymn } from '#test/support/hymn.ts';
import { HYMN_FILES } from '#test/support/hymns.ts';
import { songOf } from '#test/support/small-abc.ts';
import { QUARTER, type Note, type Score, type Ticks } from '../score/score.ts';
import type { Player, Texture } from './arrangement.ts';
import { barsChanged, sayBarsChanged } from './bars-changed.ts';
import type { Part, Role } from './part.ts';
import { build } from './parts.ts';
import { rungsFor } from './rungs.ts';

const LEVELS = ['beginner', 'intermediate', 'advanced'] as const;
type Textures = readonly Texture[];

function partOf(
  score: Score,
  level: Player['level'],
  roles: readonly Role[],
  textures: Textures = [],
): Part {
  const player: Player = {
    id: 'j',
    name: 'Joel',
    role: 'keys',
    level,
    reach: 12,
    rungs: rungsFor(level),
  };
  const key = score.keys[0]?.key ?? { tonic: 'C', mode: 'major' };
  const form = score.form.map((pass, i) => ({
    ...pass,
    texture: textures[i] ?? textures.at(-1) ?? 'held',
  }));
  const built = build(score, { key, tempo: null, density: 'bar', form }, player, { roles });
  if (!built.ok) throw new Error(JSON.stringify(built.problems));
  return built.value;
}

const ALONE: readonly Role[] = ['keys', 'lead voice'];
const WITH_BASS: readonly Role[] = [...ALONE, 'bass'];

/** With the notes of a hand as `change` has them. */
function edited(part: Part, hand: string, change: (notes: readonly Note[]) => Note[]): Part {
  const voices = part.score.voices.map((voice) =>
    voice.id === hand ? { ...voice, notes: change(voice.notes) } : voice,
  );
  return { ...part, score: { ...part.score, voices } };
}

/** The first note that sounds in a bar of the song. */
const firstIn = ({ score }: Part, number: number) => {
  const bar = score.bars.find((each) => each.number === number && each.copyOf === undefined);
  return (note: Note) =>
    bar !== undefined &&
    note.at >= bar.at &&
    note.at < bar.at + bar.length &&
    note.pitches.length > 0;
};

const FOUR = songOf('"C"c4|"F"A4|"G"B4|"C"c4|]', ['one two three four']);
const said = (before: Part, after: Part) =>
  sayBarsChanged('Joel', after, barsChanged(before, after));

describe('The bars whose notes are not what they were', () => {
  it('are none of a part against itself, and against the same part built again', () => {
    for (const file of HYMN_FILES.slice(0, 2))
      for (const level of LEVELS) {
        const part = partOf(hymn(file), level, WITH_BASS, ['leading']);
        expect(barsChanged(part, part)).toEqual([]);
        expect(barsChanged(part, partOf(hymn(file), level, WITH_BASS, ['leading']))).toEqual([]);
      }
  });

  it('are the one bar in which a pitch, a length or a strike is another', () => {
    const part = partOf(FOUR, 'beginner', ALONE);
    const is = firstIn(part, 3);
    const bars = (after: Part) =>
      barsChanged(part, after).map(({ voice, bars: own }) => [
        voice,
        own.map(({ bar, section }) => [bar.number, section.id]),
      ]);
    const section = part.score.sections.at(-1)?.id;
    const otherPitch = edited(part, 'left', (notes) =>
      notes.map((note) => (is(note) ? { ...note, pitches: ['B2'] } : note)),
    );
    expect(bars(otherPitch)).toEqual([['left', [[3, section]]]]);
    const twice = (tie: boolean) =>
      edited(part, 'right', (notes) =>
        notes.flatMap((note): Note[] => {
          if (!is(note)) return [note];
          const half = note.length / 2;
          const [first, second] = [
            { ...note, length: half },
            { ...note, at: note.at + half, length: half },
          ];
          return tie ? [{ ...first, tie: true }, second] : [first, second];
        }),
      );
    expect(bars(twice(false))).toEqual([['right', [[3, section]]]]);
    expect(bars(twice(true)), 'the same sound, written with a tie').toEqual([]);
    const shorter = edited(part, 'left', (notes) =>
      notes.flatMap((note): Note[] => {
        if (!is(note)) return [note];
        const rest = { at: note.at + note.length - QUARTER, length: QUARTER, pitches: [] };
        return [{ ...note, length: note.length - QUARTER }, rest];
      }),
    );
    expect(bars(shorter)).toEqual([['left', [[3, section]]]]);
    expect(said(part, shorter)).toBe('Joel’s left hand, bar 3');
  });

  it('count neither fingers, nor words, nor the singer’s staff', () => {
    const part = partOf(FOUR, 'beginner', ALONE);
    const unfingered = edited(part, 'left', (notes) =>
      notes.map(({ fingers: _none, ...note }) => note),
    );
    const sung = edited(unfingered, 'melody', (notes) =>
      notes.map((note) => ({ ...note, pitches: ['C4'] })),
    );
    expect(barsChanged(part, sung)).toEqual([]);
  });

  it('are all where the two are not the same bars', () => {
    const [once, twice] = [
      partOf(hymn('Amazing_Grace-New_Britain.abc'), 'advanced', ALONE, ['held']),
      partOf(hymn('Amazing_Grace-New_Britain.abc'), 'advanced', ALONE, ['held', 'every beat']),
    ];
    const hands = barsChanged(once, twice);
    expect(hands.map(({ voice, rewritten, bars }) => [voice, rewritten, bars.length])).toEqual([
      ['right', true, twice.score.bars.length],
      ['left', true, twice.score.bars.length],
    ]);
    expect(said(once, twice)).toBe('Joel’s part is written out otherwise, so look at all bars');
  });
});

/**
 * A comparison of another kind: time is cut into the finest step that any note of both parts needs, and a bar differs where
 * a key is struck, down or up in another step of it.
 */
function barsByTheStep(before: Part, after: Part, hand: string): string[] {
  const notesOf = ({ score }: Part) => score.voices.find(({ id }) => id === hand)?.notes ?? [];
  const gcd = (a: Ticks, b: Ticks): Ticks => (b === 0 ? a : gcd(b, a % b));
  const step = [...notesOf(before), ...notesOf(after)].reduce(
    (sum, { at, length }) => gcd(gcd(sum, at), length),
    0,
  );
  const steps = (part: Part): Map<Ticks, string> => {
    const keys = new Map<Ticks, string>();
    const notes = notesOf(part);
    notes.forEach((note, i) => {
      const last = notes[i - 1];
      for (let at = note.at; at < note.at + note.length; at += step) {
        const down = note.pitches.map((pitch) => {
          const goesOn = at > note.at || (last?.tie === true && last.pitches.includes(pitch));
          return `${pitch}${goesOn ? '' : '!'}`;
        });
        keys.set(at, down.sort().join(' '));
      }
    });
    return keys;
  };
  const [was, now] = [steps(before), steps(after)];
  return after.score.bars.flatMap(({ at, length, number, copyOf }) => {
    for (let moment = at; moment < at + length; moment += step)
      if (was.get(moment) !== now.get(moment)) return [`${number} ${copyOf ?? ''}`];
    return [];
  });
}

describe('What a bass player changes at the keys', () => {
  const namesOf = (before: Part, after: Part, hand: string) =>
    (barsChanged(before, after).find(({ voice }) => voice === hand)?.bars ?? []).map(
      ({ bar }) => `${bar.number} ${bar.copyOf ?? ''}`,
    );

  it.each(LEVELS)(
    'is found in the bars that a comparison step by step finds (%s)',
    (level) => {
      const files = level === 'beginner' ? HYMN_FILES : HYMN_FILES.slice(0, 4);
      let [changed, same] = [0, 0];
      for (const file of files) {
        const score = hymn(file);
        const [alone, light] = [ALONE, WITH_BASS].map((roles) =>
          partOf(score, level, roles, ['every beat']),
        );
        if (!alone || !light) throw new Error('two parts');
        for (const hand of ['right', 'left']) {
          const bars = namesOf(light, alone, hand);
          expect(bars, `${file}, ${hand}`).toEqual(barsByTheStep(light, alone, hand));
          expect(namesOf(alone, light, hand), 'and back').toEqual(bars);
          changed += bars.length;
          same += alone.score.bars.length - bars.length;
        }
      }
      expect(changed).toBeGreaterThan(0);
      expect(same).toBeGreaterThan(0);
    },
    60_000,
  );

  it('is in the bars that the first rung’s own sheet names with a bass', () => {
    let named = 0;
    for (const file of HYMN_FILES) {
      const [alone, light] = [
        partOf(hymn(file), 'beginner', ALONE),
        partOf(hymn(file), 'beginner', WITH_BASS),
      ];
      const line = light.directions
        .flatMap(({ words }) => words)
        .find((words) => words.startsWith('there is a bass this week'));
      const words = said(alone, light);
      const where = words.replace(/^Joel’s left hand, /, '');
      const expected =
        words === ''
          ? undefined
          : where === 'all through'
            ? 'there is a bass this week, so the left hand stays light all through'
            : `there is a bass this week, so the left hand stays light: other notes in ${where}`;
      expect(line, file).toBe(expected);
      if (line) named += 1;
    }
    expect(named).toBeGreaterThan(0);
  }, 60_000);

  it('is said with the verses where a section stands twice', () => {
    const textures: Textures = ['held', 'held', 'every beat'];
    const part = partOf(hymn('Amazing_Grace-New_Britain.abc'), 'advanced', ALONE, textures);
    const threes = part.score.bars.filter(({ number, copyOf }) => number === 3 && !copyOf);
    const last = part.score.bars.findLast(({ number }) => number === 5);
    if (threes.length !== 2 || !last) throw new Error('the verse stands twice');
    const other = edited(part, 'left', (notes) =>
      notes.map((note) =>
        [...threes, last].some(({ at, length }) => note.at >= at && note.at < at + length)
          ? { ...note, pitches: ['C1'] }
          : note,
      ),
    );
    expect(said(part, other)).toBe(
      'Joel’s left hand, bar 3 of verses 1 and 2 and bars 3 and 5 of verses 3 to 7',
    );
  });

  it('is said with the key where a section stands in two of them', () => {
    const score = hymn('Amazing_Grace-New_Britain.abc');
    const form = score.form.map((pass, i) =>
      i < score.form.length - 1 ? pass : { ...pass, up: 2 },
    );
    const held = partOf({ ...score, form }, 'advanced', ALONE, ['held']);
    const threes = held.score.bars.filter(({ number }) => number === 3);
    const other = edited(held, 'left', (notes) =>
      notes.map((note) =>
        threes.some(({ at, length }) => note.at >= at && note.at < at + length)
          ? { ...note, pitches: ['C1'] }
          : note,
      ),
    );
    const words = said(held, other);
    // As both are printed over their bars.
    expect(words).toBe('Joel’s left hand, bar 3 of verse and bar 3 of verse 7, in A major');
  });
});
