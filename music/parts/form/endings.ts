import { phraseEnds } from '../../score/phrase-ends.ts';
import type { Bar, Score, Section, Span, Ticks } from '../../score/score.ts';
import { barAt, barLength, meterAt } from '../../score/time.ts';
import { TEXTURES, type Ending, type Texture } from '../arrangement.ts';
import type { PlayedChord } from '../played-chords.ts';

/** The last phrase of a pass, as it ends it: from where on, to the end of its section. */
export interface PlacedEnding extends Span {
  readonly ending: Ending;
  /** What is played there. */
  readonly texture: Texture;
  /** The passes that end so, by name; missing or empty: all that are read from the section. */
  readonly who?: string;
}

/** A phrase of the words ends with a bar where half of the verses end one there, or more (ours). */
const ENDS = 0.5;
/** In full bars: an ending that is not known from the words, and the longest. */
const [USUAL, MOST] = [2, 4];
/** The last chord is held for no more bars than this; one that lasts longer is struck again there. */
const HELD = 2;

const FULL: Texture = 'every beat';

/** What is played in the ending of a pass that is played in a texture: see `placeEnding`. */
export function textureOfEnding(ending: Ending, texture: Texture): Texture {
  if (ending === 'quiet') return 'held';
  return TEXTURES.indexOf(texture) > TEXTURES.indexOf(FULL) ? texture : FULL;
}

/**
 * Where the passes through a section end otherwise than they are played: from the beginning of the last phrase of two full
 * bars or more, where the words say one, else the last two full bars; never more than four. Common practice, the
 * figures are ours:
 *
 * - `quiet`: chords held and softer, no fills, no runs of the left hand; the bass plays roots;
 * - `broad`: chords on every felt beat, never less full than the pass's own texture; it broadens into the last bar.
 *
 * In both the last chord is struck once and held, with a fermata.
 * @returns null where a sheet cannot have it in notes: the last bars belong to a repeat or to endings of their own
 */
export function placeEnding(
  score: Score,
  section: Section,
  { ending, texture }: { readonly ending: Ending; readonly texture: Texture },
): PlacedEnding | null {
  const from = endingFrom(score, section);
  const bars = score.bars.filter(({ at, length }) => at < section.to && at + length > from);
  if (bars.some(({ repeatStart, repeatEnd, endings }) => repeatStart || repeatEnd || endings.length > 0)) return null; // prettier-ignore
  return { ending, texture: textureOfEnding(ending, texture), from, to: section.to };
}

/** Where the ending of a section begins, on a bar line. */
export function endingFrom(score: Score, section: Section): Ticks {
  const own = score.bars.filter(({ at }) => at >= section.from && at < section.to);
  const isFull = ({ at, length }: Bar) => length >= (barLength(meterAt(score, at)) ?? length);
  /** How many full bars there are from a bar on. */
  const after = (bar: Bar) => own.filter((each) => each.at >= bar.at && isFull(each)).length;
  const ends = phraseEnds(score);
  const phrase = own.findLast((bar, i) => {
    const before = own[i - 1];
    const ended = before ? (ends[score.bars.indexOf(before)] ?? 0) : 0;
    return ended >= ENDS && after(bar) >= USUAL;
  });
  const most = phrase ? Math.min(MOST, after(phrase)) : USUAL;
  return own.find((bar) => after(bar) <= most && isFull(bar))?.at ?? section.from;
}

/** Where the last chord of an ending is struck and how long it is held; null: no chord is played there. */
export function lastHeld(
  score: Score,
  chords: readonly PlayedChord[],
  { from, to }: Span,
): (Span & { readonly chord: number }) | null {
  const chord = chords.findLastIndex(({ at, length }) => at < to && at + length > from);
  const last = chords[chord];
  if (!last) return null;
  const bars = score.bars.filter(({ at }) => at >= from && at < to);
  const begins = bars.at(-HELD)?.at ?? from;
  return { from: Math.max(last.at, from, begins), to: Math.min(last.at + last.length, to), chord };
}

/** `bar 13`, as the sheet numbers it. */
const barOf = (score: Score, at: Ticks): string => `bar ${barAt(score, at).number}`;

/** For whoever plays it: `verse 5, quiet ending: from bar 13 softly, hold; the last chord once, and hold it`. */
export function sayEnding(
  score: Score,
  { ending, texture, from, who = '' }: Pick<PlacedEnding, 'ending' | 'texture' | 'from' | 'who'>,
): string {
  const of = who === '' ? '' : `${who.toLocaleLowerCase()}, `;
  const start = `from ${barOf(score, from)}`;
  if (ending === 'quiet') return `${of}quiet ending: ${start} softly, hold; ${ONCE}`;
  // Without a meter there are no beats to strike.
  const isFree = barLength(meterAt(score, from)) === null;
  const how = isFree ? 'full' : texture === FULL ? 'full, every beat' : 'as full as before';
  return `${of}broad ending: ${start} ${how}; ${BROADEN}; ${ONCE}`;
}

const ONCE = 'the last chord once, and hold it';
const BROADEN = 'broaden into the last bar';

/** For whoever holds all along: a quiet ending is a matter of how loud, a broad one of the others; both of the last chord. */
export function sayHeldEnding(score: Score, section: Section, ending: Ending): string {
  const start = `from ${barOf(score, endingFrom(score, section))}`;
  return ending === 'quiet'
    ? `quiet ending: ${start} softer; hold the last chord until all let go`
    : `broad ending: ${start} the others play full and ${BROADEN}; you hold your last chord with them until all let go`;
}

/** For whoever sings. */
export function sayEndingToSingers(score: Score, section: Section, ending: Ending): string {
  const start = `from ${barOf(score, endingFrom(score, section))}`;
  return ending === 'quiet'
    ? `quiet ending: ${start} softer; hold the last note until all let go`
    : `broad ending: ${start} full; ${BROADEN}; hold the last note until all let go`;
}

/** How a pass ends, in a word. */
export const HOW: Readonly<Record<Ending, string>> = { quiet: 'quietly', broad: 'broadly' };

/** On a page without bars. */
export const ENDING_IN_WORDS: Readonly<Record<Ending, string>> = {
  quiet: 'quiet ending: the last line softer, its last note held until all let go',
  broad:
    'broad ending: the last line full, broader at its end, its last note held until all let go',
};
