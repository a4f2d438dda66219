import { failure, success, type Result } from '../../result.ts';
import { unfold } from '../../score/form.ts';
import type { Meter, Score, Section, Ticks } from '../../score/score.ts';
import { barLength, feltBeat, meterAt } from '../../score/time.ts';
import type { Player, Team, Texture } from '../arrangement.ts';
import { inSections } from './bass-notes.ts';
import type { Level } from '../level.ts';
import { FIGURES, strikesInBar, type Figure } from '../patterns.ts';
import { noChords, playedChords, type PlayedChord } from '../played-chords.ts';
import { bassRungFor } from '../rungs.ts';
import type { PlacedEnding } from '../form/endings.ts';
import { textureIn, type WrittenOut } from '../form/written-out.ts';

export type BassRung = 1 | 2 | 3;
/**
 * What the bass does at a place: the notes of the chords alone; those with fifths and steps into the next chord; a line
 * on every felt beat; the bass that is written in the song, and where it is not to be had, fifths and steps.
 */
export type BassMode = 'roots' | 'fifths' | 'walking' | 'written';

/** The step that somebody plays all through a song: their own, else that of their level. */
export const rungOf = ({ level, rungs }: Pick<Player, 'level' | 'rungs'>): BassRung =>
  rungs?.bass ?? bassRungFor(level);

/** The level that a step stands for. */
export const LEVEL_OF = {
  1: 'beginner',
  2: 'intermediate',
  3: 'advanced',
} as const satisfies Readonly<Record<BassRung, Level>>;

/**
 * What the third rung does in each texture: where the others hold its own line is heard, where they play on it walks. Where they lead on
 * with one stroke a bar, a walking line would cover it, so it stays with roots, fifths and steps (ours).
 */
const THIRD: Readonly<Record<Texture, BassMode>> = {
  held: 'written',
  answered: 'written',
  leading: 'fifths',
  'every beat': 'walking',
  swaying: 'walking',
  broken: 'walking',
};

/** A song as a bass player sees it. */
export interface BassSong {
  /** Written out, its introduction before it. */
  readonly score: Score;
  /** As everybody plays them, in order, cut where a section begins. At least one. */
  readonly chords: readonly PlayedChord[];
  readonly textureAt: (at: Ticks) => Texture;
  readonly modeAt: (at: Ticks) => BassMode;
  readonly strings: 4 | 5;
  /** Whether a drummer plays whose kick is played with: not on the first step. */
  readonly hasDrumsAt: (at: Ticks) => boolean;
  /** Index of the chord on which the song ends as it is played: it is held. */
  readonly last: number;
  readonly endings: readonly PlacedEnding[];
}

/** Fails where there is no chord. */
export function bassSong(
  written: WrittenOut,
  { level, instruments, rungs }: Pick<Player, 'level' | 'instruments' | 'rungs'>,
  team: Team,
): Result<BassSong> {
  const { score } = written;
  const endings = [...written.endings.values()];
  const chords = inSections(playedChords(score), score.sections);
  if (chords.length === 0) return failure(noChords(score));
  const rungAt = (at: Ticks): BassRung => {
    const section = sectionAt(score, at);
    const own = rungs?.sections?.[section?.copyOf ?? section?.id ?? ''];
    return own?.bass ?? rungOf({ level, ...(rungs && { rungs }) });
  };
  const textureAt = (at: Ticks): Texture => textureIn(written, at);
  const isQuiet = (at: Ticks) =>
    endings.some(({ ending, from, to }) => ending === 'quiet' && at >= from && at < to);
  const modeAt = (at: Ticks): BassMode => {
    if (isQuiet(at)) return 'roots';
    const rung = rungAt(at);
    const mode = rung === 1 ? 'roots' : rung === 2 ? 'fifths' : THIRD[textureAt(at)];
    // Without a meter there are no beats to walk on.
    return barLength(meterAt(score, at)) === null ? 'roots' : mode;
  };
  const strings = instruments?.bassStrings ?? 4;
  const hasDrums = team.roles.includes('drums');
  const hasDrumsAt = (at: Ticks): boolean => hasDrums && rungAt(at) > 1;
  const end = unfold(score).at(-1)?.to ?? 0;
  const last = chords.findLastIndex(({ at }) => at < end);
  return success({ score, chords, textureAt, modeAt, strings, hasDrumsAt, last, endings });
}

export function sectionAt({ sections }: Score, at: Ticks): Section | undefined {
  return sections.find(({ from, to }) => at >= from && at < to);
}

/** Where something else than what stands next on paper may follow: a section or a repeat begins or ends, or an ending. */
export function isCutAt({ sections, bars }: Score, at: Ticks): boolean {
  if (sections.some(({ from, to }) => from === at || to === at)) return true;
  const next = bars.findIndex((bar) => bar.at === at);
  const [before, after] = [bars[next - 1], bars[next]];
  if (!before || !after) return false;
  return before.repeatEnd || before.endings.join() !== after.endings.join();
}

const beatsOf = (meter: Meter): number => {
  const full = barLength(meter);
  return full === null ? 0 : Math.round(full / feltBeat(meter));
};

const at = (moments: readonly Ticks[]) =>
  moments.map((moment) => ({ at: moment, touch: 'all' }) as const);

/** The felt beat in the middle of a full bar; null in an odd number of beats, and without a meter. */
export function middleOf(meter: Meter): Ticks | null {
  const beats = beatsOf(meter);
  return beats > 1 && beats % 2 === 0 ? (beats / 2) * feltBeat(meter) : null;
}

/**
 * Where the fifth comes in a full bar: on the middle beat; in three on the last (common practice: one, and three leads on).
 * Null in one, five and seven beats, where nothing is the middle.
 */
export function secondPlaceOf(meter: Meter): Ticks | null {
  return beatsOf(meter) === 3 ? 2 * feltBeat(meter) : middleOf(meter);
}

/** The drummer's kick: on the first and the middle beat, in an odd number of beats on the first (common practice). */
const KICK: Figure = (meter) => at([0, middleOf(meter) ?? 0]);
const SECOND_PLACE: Figure = (meter) => at([secondPlaceOf(meter) ?? -1]);
/** Strong beats: the first, and in four or more the middle one too. */
const STRONG: Figure = (meter) => at(beatsOf(meter) >= 4 ? [0, middleOf(meter) ?? 0] : [0]);

const momentsOf = (score: Score, bar: number, figure: Figure): Ticks[] =>
  strikesInBar(score, bar, () => 'every beat', figure).map((strike) => strike.at);

/** Felt beats of a bar by its index; a short bar counts as the end or the beginning of a full one. */
export const feltBeatsIn = (score: Score, bar: number): Ticks[] =>
  momentsOf(score, bar, FIGURES.right);
export const kicksIn = (score: Score, bar: number): Ticks[] => momentsOf(score, bar, KICK);
export const strongBeatsIn = (score: Score, bar: number): Ticks[] => momentsOf(score, bar, STRONG);

/** Where the fifth comes in a bar by its index; null: nowhere, or where the bar begins. */
export function secondPlaceIn(score: Score, bar: number): Ticks | null {
  const start = score.bars[bar]?.at ?? 0;
  return momentsOf(score, bar, SECOND_PLACE).find((moment) => moment > start) ?? null;
}
