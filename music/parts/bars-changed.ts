import { printedName } from '../score/copy-names.ts';
import { listed } from '../score/number-words.ts';
import type { Bar, Score, Section, Ticks, Voice } from '../score/score.ts';
import { sayBarList } from './bar-list.ts';
import { isLink } from './link/link.ts';
import type { Part } from './part.ts';

/** A bar whose notes are not what they were, in the part as it is now. */
export interface ChangedBar {
  readonly bar: Bar;
  readonly section: Section;
}

/** A hand (a printed staff that is not the singer’s) of which bars have other notes. */
export interface ChangedHand {
  /** Id of its voice: `left`. */
  readonly voice: string;
  /** `Left hand`. */
  readonly name: string;
  /** In order, at least one. */
  readonly bars: readonly ChangedBar[];
  /** The two parts are not written out in the same bars, so that all bars count as changed. */
  readonly rewritten: boolean;
  /** Every bar in which the hand plays is changed. */
  readonly throughout: boolean;
}

/**
 * Which bars of each hand have other notes in `after` than in `before`: other pitches, onsets or lengths. Fingers, words and
 * how a held note is divided by ties do not count. A note that is held over a bar line counts in each of its bars, there
 * with the part of it that sounds in the bar.
 * @param before a part of the same song for the same player
 * @returns hands without a change are left out
 */
export function barsChanged(before: Part, after: Part): readonly ChangedHand[] {
  return changedIn(before, after, handsOf);
}

/** The same of what a singer sings. @param before a part of the same song for the same singer */
export function sungBarsChanged(before: Part, after: Part): readonly ChangedHand[] {
  return changedIn(before, after, sungOf);
}

/** In how many printed bars anything is changed, a bar of both hands counted once. */
export function countChanged(hands: readonly ChangedHand[]): number {
  return new Set(hands.flatMap(({ bars }) => bars.map(({ bar }) => bar.at))).size;
}

function changedIn(
  before: Part,
  after: Part,
  voicesOf: (part: Part) => Voice[],
): readonly ChangedHand[] {
  const rewritten = layoutOf(before.score) !== layoutOf(after.score);
  const were = new Map(voicesOf(before).map((voice) => [voice.id, voice]));
  const { bars } = after.score;
  const [own, old] = [ownBars(after.score), ownBars(before.score)];
  return voicesOf(after).flatMap((voice): ChangedHand[] => {
    const now = soundsIn(voice, bars);
    const all = soundsIn(were.get(voice.id), before.score.bars);
    // The bars that lead on may be more or fewer than they were.
    const wasAt = (i: number): number => (i < own ? i : old + i - own);
    const was = bars.map((_, i) => all[wasAt(i)] ?? '');
    const isOther = (i: number): boolean =>
      now[i] !== was[i] || (i >= own && signOf(bars[i]) !== signOf(before.score.bars[wasAt(i)]));
    const places = bars.flatMap((_, i) => (rewritten || isOther(i) ? [i] : []));
    if (places.length === 0) return [];
    const plays = (i: number) => now[i] !== '' || was[i] !== '';
    return [
      {
        voice: voice.id,
        name: voice.name,
        bars: places.flatMap((i) => placed(after.score, bars[i])),
        rewritten,
        throughout: bars.every((_, i) => !plays(i) || places.includes(i)),
      },
    ];
  });
}

/** How many bars the song itself has on a page, without those that lead on to the next one. */
function ownBars({ bars, sections }: Score): number {
  const from = sections.find(isLink)?.from ?? Infinity;
  return bars.filter(({ at }) => at < from).length;
}

/** Of a bar that leads on: there or not, how long, and whether it is played over and over. */
const signOf = (bar: Bar | undefined): string =>
  bar ? [bar.length, bar.repeatStart, bar.repeatEnd].join(' ') : '';

/** How many bars led on to the next song that stand on the page no more. */
export function linkBarsGone({ score: before }: Part, { score: after }: Part): number {
  const [was, now] = [before, after].map((score) => score.bars.length - ownBars(score));
  return Math.max(0, (was ?? 0) - (now ?? 0));
}

function handsOf({ score, printed }: Part): Voice[] {
  return score.voices.filter(
    ({ id }) => id !== score.melody && (printed === undefined || printed.includes(id)),
  );
}

function sungOf({ score }: Part): Voice[] {
  return score.voices.filter(({ id }) => id === score.melody);
}

function placed({ sections }: Score, bar: Bar | undefined): ChangedBar[] {
  if (!bar) return [];
  const end = bar.at + bar.length;
  const section = sections.find(({ from, to }) => from < end && to > bar.at);
  return section ? [{ bar, section }] : [];
}

/** Two parts with the same layout can be compared bar by bar; bars that lead on are compared on their own. */
function layoutOf(score: Score): string {
  return JSON.stringify([
    score.bars
      .slice(0, ownBars(score))
      .map(({ number, at, length, copyOf }) => [number, at, length, copyOf]),
    score.sections.filter((each) => !isLink(each)).map(({ id, from, to }) => [id, from, to]),
  ]);
}

interface Sounding {
  readonly pitch: string;
  readonly at: Ticks;
  end: Ticks;
}

/** What sounds in each bar, as a text that is the same for the same notes; empty where the hand rests. */
function soundsIn(voice: Voice | undefined, bars: readonly Bar[]): string[] {
  const sounding = voice ? tied(voice) : [];
  const graces = (voice?.notes ?? []).filter(({ grace }) => grace !== undefined);
  return bars.map(({ at, length }) => {
    const end = at + length;
    const here = sounding
      .filter((each) => each.at < end && each.end > at)
      .map((each) =>
        [
          each.at < at ? 'held' : each.at - at,
          Math.min(each.end, end) - Math.max(each.at, at),
          each.pitch,
        ].join(' '),
      );
    const before = graces.filter((note) => note.at >= at && note.at < end);
    return [
      ...here.sort(),
      ...before.map((note) => `grace ${note.at - at} ${JSON.stringify(note.grace)}`),
    ].join(', ');
  });
}

/** Each pitch once for as long as it sounds, its ties taken together. */
function tied({ notes }: Voice): Sounding[] {
  const all: Sounding[] = [];
  let open: readonly Sounding[] = [];
  for (const { at, length, pitches, tie } of notes) {
    const now = pitches.map((pitch): Sounding => {
      const held = open.find((each) => each.pitch === pitch && each.end === at);
      if (held) {
        held.end = at + length;
        return held;
      }
      const struck = { pitch, at, end: at + length };
      all.push(struck);
      return struck;
    });
    open = tie ? now : [];
  }
  return all;
}

/** `Joel’s left hand, bars 10 to 13 and 19`; `Joel’s left hand, all through`; empty where nothing changes. */
export function sayBarsChanged(
  name: string,
  { score }: Pick<Part, 'score'>,
  hands: readonly ChangedHand[],
): string {
  if (hands.some(({ rewritten }) => rewritten))
    return `${name}’s part is written out otherwise, so look at all bars`;
  return listed(
    hands.map((hand) => {
      const where = hand.throughout ? 'all through' : sayWhere(score, hand.bars);
      return `${name}’s ${hand.name.toLocaleLowerCase()}, ${where}`;
    }),
  );
}

/** `bar 3 of verse 5, in G major and bars 18 and 19 on to “Abide with me” in D`. */
function sayWhere(score: Score, changed: readonly ChangedBar[]): string {
  const own = changed.filter(({ section }) => !isLink(section));
  const link = changed.filter(({ section }) => isLink(section));
  const on = withSmallInitial(score.sections.find(isLink)?.name ?? '');
  return listed([
    ...(own.length > 0 ? [sayOwn(score, own)] : []),
    ...(link.length > 0 ? [`${sayBarList(link.map(({ bar }) => bar))} ${on}`] : []),
  ]);
}

/** With the section as it is printed where a number stands more than once, as in a section that is written out twice. */
function sayOwn(score: Score, changed: readonly ChangedBar[]): string {
  const { bars } = score;
  const numbers = bars.flatMap(({ number, copyOf }) => (copyOf === undefined ? [number] : []));
  if (new Set(numbers).size === numbers.length) return sayBarList(changed.map(({ bar }) => bar));
  const sections = new Map<Section, Bar[]>();
  for (const { bar, section } of changed)
    sections.set(section, [...(sections.get(section) ?? []), bar]);
  return listed(
    [...sections].map(([section, own]) => {
      const said = sayBarList(own);
      if (own.every(({ copyOf }) => copyOf !== undefined)) return said;
      return `${said} of ${withSmallInitial(printedName(score, section))}`;
    }),
  );
}

/** `Verse 5, in G major` inside a sentence; only the first letter, as a key keeps its capital. */
const withSmallInitial = (name: string): string =>
  name.charAt(0).toLocaleLowerCase() + name.slice(1);
