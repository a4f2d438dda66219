import type { PitchName } from '../pitch/pitch.ts';
import type { Range, Singer } from './range.ts';

export const GUIDELINE_IDS = [
  'psalter-committee',
  'average-assembly',
  'upper-limit-d',
  'as-printed',
  'one-octave',
  'over-sixty-five',
] as const;
export type GuidelineId = (typeof GUIDELINE_IDS)[number];

/**
 * What someone who knows congregations has written about how high and low they sing. The notes are those of the
 * printed tune: women and children sing them as written, men an octave below, so that one range serves the room.
 */
export interface Guideline {
  readonly id: GuidelineId;
  /** What it says, in a line. */
  readonly words: string;
  /** Whose words it is, as the end of a line. */
  readonly whose: string;
  /** null: the source names no note there. */
  readonly low: PitchName | null;
  readonly high: PitchName | null;
  readonly source: string;
  /** How much weight it carries. */
  readonly weight: 'committee' | 'study' | 'expert, reported' | 'one practitioner';
}

export const GUIDELINES: readonly Guideline[] = [
  {
    id: 'psalter-committee',
    words: 'No lower than A3 and no higher than D5',
    whose: 'as a psalter hymnal committee prefers it',
    low: 'A3',
    high: 'D5',
    source:
      'Preference of the psalter hymnal committee of the United Reformed Churches, quoted at burlingtonurc.wordpress.com, 17 June 2011',
    weight: 'committee',
  },
  {
    id: 'average-assembly',
    words: 'An average assembly: A3 to D5',
    whose: 'as one practitioner has it',
    low: 'A3',
    high: 'D5',
    source: 'trio-praise.com',
    weight: 'one practitioner',
  },
  {
    id: 'upper-limit-d',
    words: 'D5 is generally the upper limit, with very little E5',
    whose: 'as a hymnologist is reported',
    low: null,
    high: 'D5',
    source:
      'A German hymnologist at the joint hymn society conference of 2015, reported at praytellblog.com, 31 July 2015',
    weight: 'expert, reported',
  },
  {
    id: 'as-printed',
    words: 'What the hymnals of one denomination print: C4 to E♭5',
    whose: 'as one denomination prints it',
    low: 'C4',
    high: 'Eb5',
    source:
      'danielharper.org, on Unitarian Universalist hymnals (its writer, a bass, finds E♭ hard)',
    weight: 'one practitioner',
  },
  {
    id: 'one-octave',
    words: 'A rule of thumb for all voices: C4 to C5',
    whose: 'a rule of thumb',
    low: 'C4',
    high: 'C5',
    source: 'hohmandoperis.blogspot.com, attributed there to a pastor',
    weight: 'one practitioner',
  },
  {
    id: 'over-sixty-five',
    words: 'Women over 65, mean range of 514 people: F3 to C5; men nearly an octave lower',
    whose: 'people over 65, a study',
    low: 'F3',
    high: 'C5',
    source: 'Moore, Staum & Brotons 1992, Journal of Music Therapy 29 (4), 236–252, abstract',
    weight: 'study',
  },
];

/** The one to start from: the only one that a committee agreed on. */
export const DEFAULT_GUIDELINE: GuidelineId = 'psalter-committee';
/** What stands for a note that a guideline does not name: the committee's. */
const USUAL: Range = { low: 'A3', high: 'D5' };

export function requireGuideline(id: string): Guideline {
  const found = GUIDELINES.find((each) => each.id === id);
  if (!found) throw new RangeError(`no guideline ${id}`);
  return found;
}

/** What a team has chosen, as a screen says it. */
export interface Chosen {
  readonly range: Range;
  /** null: a range of the team's own. */
  readonly guideline: Guideline | null;
  /** Whose words it is: `as a psalter hymnal committee prefers it`, `as you set it`. */
  readonly whose: string;
  /** Which end the guideline leaves open and the committee's stands for; null: none. */
  readonly lent: 'low' | 'high' | null;
}

/** @param choice a guideline's id or a range as printed; null: the usual guideline */
export function chosen(choice: GuidelineId | Range | null): Chosen {
  if (choice !== null && typeof choice === 'object') {
    return { range: choice, guideline: null, whose: 'as you set it', lent: null };
  }
  const guideline = requireGuideline(choice ?? DEFAULT_GUIDELINE);
  const lent = guideline.low === null ? 'low' : guideline.high === null ? 'high' : null;
  return { range: named(guideline), guideline, whose: guideline.whose, lent };
}

/**
 * The congregation as one voice. `guideline` is an id of the list, or a range of one's own: people who know their
 * room know better than any list.
 */
export function voice(
  guideline: string | Range = DEFAULT_GUIDELINE,
  name = 'the congregation',
): Singer {
  const range = typeof guideline === 'string' ? named(requireGuideline(guideline)) : guideline;
  return { id: 'congregation', name, comfortable: range, reads: 'as written' };
}

function named(guideline: Guideline): Range {
  return { low: guideline.low ?? USUAL.low, high: guideline.high ?? USUAL.high };
}
