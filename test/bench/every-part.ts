import {
  Keys,
  Parts,
  WordsSheets,
  type Arrangement,
  type Key,
  type Player,
  type Role,
  type Score,
  type Ticks,
} from '#music';
import { hymn } from '#test/support/hymn.ts';

const TEAM = { roles: ['keys', 'bass', 'guitar', 'lead voice'] } as const;
const STEPS = [1, 2, 3, 4] as const;

const player = (role: Role, more: Partial<Player> = {}): Player => ({
  id: 'p',
  name: 'Ines',
  role,
  level: 'beginner',
  reach: 12,
  ...more,
});

/** Who may stand before one song: the keys at every step of the right hand with the first and the last of the left, the bass on its three rungs, a singer. */
export const PLAYERS: readonly Player[] = [
  ...STEPS.flatMap((right) =>
    ([1, 4] as const).map((left) =>
      player('keys', { rungs: { right, left, pedal: 1, texture: 6 } }),
    ),
  ),
  ...(['beginner', 'intermediate', 'advanced'] as const).map((level) => player('bass', { level })),
  player('lead voice', { voice: { low: 'A3', high: 'D5' } }),
];
const GUITARIST = player('guitar');

/** Of a song, with the words and chords. */
export const PARTS_IN_A_KEY = PLAYERS.length + 1;

export const SONG = hymn('Amazing_Grace-New_Britain.abc');
export const TWELVE: readonly Key[] = Keys.keysToOffer('major');

const TEXTURES = ['held', 'leading', 'every beat', 'broken'] as const;

function arrangementIn(score: Score, key: Key): Arrangement {
  const form = score.form.map((pass, i) => ({ ...pass, texture: TEXTURES[i % 4] ?? 'held' }));
  return { key, tempo: null, density: 'bar', form };
}

/** What one player gets in one key; throws where there is none. */
export function partIn(score: Score, key: Key, who: Player) {
  const built = Parts.build(score, arrangementIn(score, key), who, TEAM);
  if (!built.ok) throw new Error(built.problems[0]?.message);
  return built.value;
}

/** Every part of a song in one key; says how many. */
export function everyPart(score: Score, key: Key): number {
  for (const who of PLAYERS) partIn(score, key, who);
  const words = WordsSheets.of(score, arrangementIn(score, key), GUITARIST);
  if (!words.ok) throw new Error(words.problems[0]?.message);
  return PARTS_IN_A_KEY;
}

/** The same song twice over as one: its bars, notes, sections and passes, and again after its end. */
export function twice(score: Score): Score {
  const last = score.bars.at(-1);
  if (!last) throw new Error('a song has bars');
  const by: Ticks = last.at + last.length;
  const again = <T extends { readonly at: Ticks }>(list: readonly T[]): T[] => [
    ...list,
    ...list.map((each) => ({ ...each, at: each.at + by })),
  ];
  const bars = score.bars.map((bar) => ({
    ...bar,
    at: bar.at + by,
    number: bar.number + last.number,
  }));
  const sections = score.sections.map((each) => ({
    ...each,
    id: `${each.id}-again`,
    from: each.from + by,
    to: each.to + by,
  }));
  const form = score.form.map((pass) => ({ ...pass, section: `${pass.section}-again` }));
  return {
    ...score,
    keys: again(score.keys),
    meters: again(score.meters),
    bars: [...score.bars, ...bars],
    voices: score.voices.map((voice) => ({ ...voice, notes: again(voice.notes) })),
    chords: again(score.chords),
    sections: [...score.sections, ...sections],
    form: [...score.form, ...form],
  };
}
