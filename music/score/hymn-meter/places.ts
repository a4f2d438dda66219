import type { Score, Span, Syllable, Ticks } from '../score.ts';
import { melodyOf } from '../time.ts';

/** A place between syllables, where a line of the poem may end. Shares are of the verses that are sung there, 0–1. */
export interface Place {
  /** Where the next syllable begins; at the last place: where the words end. */
  readonly at: Ticks;
  /** For each verse: how many of its syllables stand before. */
  readonly before: readonly number[];
  /** … that have a stop before it. */
  readonly stop: number;
  /** … that go on with a capital, “I” aside. */
  readonly capital: number;
  /** … that have both. */
  readonly both: number;
  /** How long the syllable before lasts with what is held or silent after it: 0 as most do, 1 twice as long or longer. */
  readonly pause: number;
  /** … that have a word, or a syllable, going on over it. */
  readonly inside: number;
}

/** One verse as it is sung: its syllables with where they begin. */
export interface SungVerse {
  readonly number: number;
  readonly syllables: readonly (Syllable & { readonly at: Ticks })[];
}

const STOP = /[,;:.!?\u2014-]["'\u201d\u2019)]*$/u;
const CAPITAL = /^["'\u201c\u2018(]*\p{Lu}/u;
const ALWAYS_CAPITAL = /^["'\u201c\u2018(]*I(['\u2019]\p{L}+)?[,;:.!?]*$/u;

/** The verses that have syllables under the notes of a section, in their order. */
export function versesIn(score: Score, { from, to }: Span): SungVerse[] {
  const notes = melodyOf(score).notes.filter(({ at }) => at >= from && at < to);
  return score.verses
    .map(({ number }, verse): SungVerse => ({
      number,
      syllables: notes.flatMap(({ at, syllables }) => {
        const syllable = syllables?.[verse];
        return syllable ? [{ ...syllable, at }] : [];
      }),
    }))
    .filter(({ syllables }) => syllables.length > 0);
}

/** Every place at which some verse begins a syllable, the first note and the end of the section among them. */
export function placesIn(verses: readonly SungVerse[], end: Ticks): Place[] {
  const starts = new Set(verses.flatMap(({ syllables }) => syllables.map(({ at }) => at)));
  const usual = usualLength(verses, end);
  return [...starts, end].sort((a, b) => a - b).map((at) => placeAt(verses, at, end, usual));
}

/** The middle length of a syllable, of all verses. */
function usualLength(verses: readonly SungVerse[], end: Ticks): Ticks {
  const lengths = verses
    .flatMap(({ syllables }) =>
      syllables.map(({ at }, place) => (syllables[place + 1]?.at ?? end) - at),
    )
    .sort((a, b) => a - b);
  return lengths[Math.floor(lengths.length / 2)] ?? 1;
}

interface Around {
  /** How many syllables of a verse stand before. */
  readonly before: number;
  readonly last: SungVerse['syllables'][number] | undefined;
  readonly next: SungVerse['syllables'][number] | undefined;
}

function placeAt(verses: readonly SungVerse[], at: Ticks, end: Ticks, usual: Ticks): Place {
  const around = verses.map(({ syllables }): Around => {
    const next = syllables.findIndex((each) => each.at >= at);
    const before = next < 0 ? syllables.length : next;
    return { before, last: syllables[before - 1], next: syllables[before] };
  });
  const share = (holds: (each: Around) => boolean): number =>
    around.filter(holds).length / around.length;
  const pauses = around.map(({ last, next }) =>
    last ? ((next?.at ?? end) - last.at) / usual - 1 : 0,
  );
  const pause = pauses.reduce((sum, each) => sum + each, 0) / pauses.length;
  const stops = ({ last }: Around) => last !== undefined && STOP.test(last.text);
  const begins = ({ last, next }: Around) =>
    next !== undefined &&
    last?.hyphen !== true &&
    CAPITAL.test(next.text) &&
    !ALWAYS_CAPITAL.test(next.text);
  return {
    at,
    before: around.map(({ before }) => before),
    stop: share(stops),
    capital: share(begins),
    both: share((each) => stops(each) && begins(each)),
    pause: Math.max(0, Math.min(1, pause)),
    inside: share(
      ({ last, next }) => last?.hyphen === true || (next !== undefined && next.at > at),
    ),
  };
}
