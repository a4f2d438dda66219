import { tonesInHand } from '../../hand/chord-in-hand.ts';
import { sayKey, sayNote, type Key } from '../../pitch/key.ts';
import { midiOf, pitchClassOf, type PitchName } from '../../pitch/pitch.ts';
import { counted, listed } from '../../score/number-words.ts';
import type { Bar, Score, Section } from '../../score/score.ts';
import { table } from '../../voice/fit-table.ts';
import type { Singer } from '../../voice/range.ts';
import { of as tessituraOf } from '../../voice/tessitura.ts';
import { sayBarList } from '../bar-list.ts';
import { playedChords, type PlayedChord } from '../played-chords.ts';
import type { Rungs } from '../rungs.ts';
import { carrierOf } from './right-carried.ts';
import { sungAt, tuneOf } from './right-tune.ts';
import { leapInto, newKeyOf, type Leap } from './singers-leaps.ts';

/** How the keyboard can help in one section, and why. */
export interface HelpForSingers {
  /** Id of the section in the song. */
  readonly section: string;
  readonly name: string;
  /**
   * `pulse`: the chord note that carries the tune is repeated softly. `tune on top`: shapes are turned so that the tune
   * lies outside.
   */
  readonly help: 'pulse' | 'tune on top';
  /** What is set in that section for a player who is on lower steps there (`OwnRungs.sections`). */
  readonly steps: Partial<Rungs>;
  /** Ids of the singers for whom it lies low, in the order they were given; empty: it does not. */
  readonly lowFor: readonly string[];
  readonly leap: Leap | null;
  /** Where it begins in another key than the singers come from: that key. */
  readonly newKey: Key | null;
  /** Bars in which something is sung and no chord note carries it. */
  readonly without: readonly Bar[];
  /** One sentence. */
  readonly words: string;
  /** `no chord note carries the tune in bars 3 and 7`; empty where one does everywhere. */
  readonly withoutWords: string;
}

/** So many half steps above their lowest comfortable note, or less, is low for a voice (ours). */
const NEAR_THE_LOWEST = 2;

/**
 * For each section that is low or unsure for the voices of this week, what the keyboard can do, in the order of the score.
 * A section lies low where a quarter of its time or more, in the octave in which they sing it (`KeyFit.table`), is at most
 * two half steps above the lowest comfortable note, for half of the voices or more; it is unsure where it begins with a
 * leap of a sixth or more, or in another key than was sung before it (all these rules are ours). What is low is pulsed on the chord note that carries the tune, softer than
 * the chord (common practice); where it is only unsure the shapes are turned so that the tune lies on top,
 * where it is heard best (ours). Empty where there are no chords or nobody sings.
 * @param score as it is arranged, in the key that is sung
 * @param voices with their comfortable ranges, sounding
 */
export function propose(score: Score, voices: readonly Singer[]): HelpForSingers[] {
  const chords = playedChords(score);
  const first = score.keys[0];
  if (chords.length === 0 || !first || score.untimed) return [];
  const { rows } = table(score, voices, { keys: [first.key] });
  return score.sections.flatMap((section): HelpForSingers[] => {
    const quarter = tessituraOf(score, { section: section.id })?.q1;
    if (quarter === undefined) return [];
    const low = voices.flatMap((singer): Low[] => {
      const row = rows.find(({ voice }) => voice === singer.id);
      const fit = row?.perSection.find((each) => each.section === section.id);
      const below = fit?.octave === 'octave below';
      const above = midiOf(quarter) - (below ? 12 : 0) - midiOf(singer.comfortable.low);
      return fit && above <= NEAR_THE_LOWEST ? [{ singer, below, above }] : [];
    });
    const isLow = low.length > 0 && 2 * low.length >= voices.length;
    const leap = leapInto(score, section.id);
    const newKey = newKeyOf(score, section.id);
    if (!isLow && !leap && !newKey) return [];
    const help = isLow ? 'pulse' : 'tune on top';
    const without = barsWithout(score, section, chords, help);
    return [
      {
        section: section.id,
        name: section.name,
        help,
        steps: help === 'pulse' ? { pulse: true } : { right: 3 },
        lowFor: isLow ? low.map(({ singer }) => singer.id) : [],
        leap,
        newKey,
        without,
        words: sayHelp(score, section, help, [
          ...(isLow ? [sayLow(quarter, low)] : []),
          ...(leap ? [sayLeap(leap)] : []),
          ...(newKey ? [`it begins in another key, ${sayKey(newKey)}`] : []),
        ]),
        withoutWords:
          without.length === 0 ? '' : `no chord note carries the tune in ${sayBarList(without)}`,
      },
    ];
  });
}

/** Somebody for whom a section lies low. */
interface Low {
  readonly singer: Singer;
  /** They sing it an octave below what is written. */
  readonly below: boolean;
  /** Half steps from their lowest comfortable note up to the quarter that is sung lowest; under 0: it lies below. */
  readonly above: number;
}

function barsWithout(
  score: Score,
  section: Section,
  chords: readonly PlayedChord[],
  help: HelpForSingers['help'],
): Bar[] {
  const tune = tuneOf(score);
  const isSung = (from: number, to: number) =>
    tune.some(({ at, length }) => at < to && at + length > from);
  return score.bars.filter((bar) => {
    const [start, end] = [
      Math.max(bar.at, section.from),
      Math.min(bar.at + bar.length, section.to),
    ];
    return chords.some(({ at, length, chord }) => {
      const [from, to] = [Math.max(at, start), Math.min(at + length, end)];
      if (to <= from || !isSung(from, to)) return false;
      if (help === 'tune on top') return at >= start && !hasOnTop(chord, sungAt(score, at));
      const notes = tonesInHand(chord, 3).map((tone): PitchName => `${tone}4`);
      return carrierOf(notes, tune, from, to) === null;
    });
  });
}

function hasOnTop(chord: PlayedChord['chord'], sung: PitchName | null): boolean {
  if (sung === null) return true;
  return tonesInHand(chord).some((tone) => pitchClassOf(tone) === midiOf(sung) % 12);
}

const HOW: Readonly<Record<HelpForSingers['help'], string>> = {
  pulse: 'Pulse the chord note that carries the tune, softer than the chord',
  'tune on top': 'Turn the shapes so that the tune lies on top',
};

function sayHelp(
  score: Score,
  { name, from, to }: Section,
  help: HelpForSingers['help'],
  reasons: readonly string[],
): string {
  const bars = score.bars.filter((bar) => bar.at < to && bar.at + bar.length > from);
  return `${HOW[help]}, in ${name} (${sayBarList(bars)}): ${reasons.join(', and ')}.`;
}

function sayLow(quarter: PitchName, low: readonly Low[]): string {
  const noteOf = ({ singer, below }: Low) =>
    `(${sayNote(singer.comfortable.low)}${below ? ', singing an octave lower' : ''})`;
  const near = low.filter(({ above }) => above >= 0).map((each) => `${each.singer.name} ${noteOf(each)}`); // prettier-ignore
  const far = low.flatMap((each) => {
    if (each.above >= 0) return [];
    const steps = counted(-each.above, 'half step', 'half steps');
    return [`${steps} or more below ${each.singer.name}’s lowest comfortable note ${noteOf(each)}`];
  });
  const where = near.length > 0 ? [`near the lowest comfortable note of ${listed(near)}`] : [];
  return `a quarter of it or more lies at ${sayNote(quarter)} or below, ${[...where, ...far].join(', and ')}`;
}

function sayLeap({ from, to, bar }: Leap): string {
  return `it begins with a leap from ${sayNote(from)} to ${sayNote(to)} in ${sayBarList([bar])}`;
}
