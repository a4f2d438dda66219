import type { ChordKind } from '../../pitch/chord.ts';
import type { Motion, LineNote } from './texture.ts';
import type { Strength } from './pulse.ts';

/**
 * The price list of a reading. All prices are whole points; 100 is one note outside the chord, a beat long, begun on
 * a beat, with nothing in its line to excuse it. The numbers are ours (set by hand on hymns); their order follows
 * common practice: a note that passes or is suspended is no reason for a chord, a bass that is the root is one.
 */
export const PRICES = {
  /** A note outside the chord: per beat, × accent × line × bass, see below. */
  outside: 100,
  /** … in the bass. */
  outsideInBass: 1.5,
  /** The bass is not the root: per beat. */
  thirdInBass: 10,
  fifthInBass: 26,
  seventhInBass: 22,
  /** The root does not sound: per beat. */
  rootAbsent: 40,
  /** The seventh of a seventh chord does not sound: per beat. */
  seventhAbsent: 10,
  /** For a beat or longer a plain triad sounds and nothing else, and this chord does not hold it. */
  triadIgnored: 20,
  /** Per chord. */
  thirdMissing: 60,
  fifthMissing: 8,
  /** Per chord and tone outside the key (a raised sixth and seventh belong to a minor key). */
  foreignTone: 12,
  foreignMissing: 70,
  /** Per beat in which nothing sounds under a chord. */
  silence: 3,
  /** A dominant seventh that goes neither down a fifth nor up a step. */
  unresolved: 20,
  /** The last chord is not on the tonic. */
  endsAway: 150,
  /** The chord before the last is not a dominant (on the fifth degree, or diminished on the leading note). */
  endsWithoutDominant: 105,
} as const;

/** Per chord: the less plain the kind, the more it has to explain. */
export const KIND_PRICE: Readonly<Partial<Record<ChordKind, number>>> = {
  major: 0,
  minor: 0,
  dominant: 30,
  'minor-seventh': 32,
  diminished: 35,
  'half-diminished': 45,
  'major-seventh': 70,
  'diminished-seventh': 45,
  'suspended-fourth': 110,
  augmented: 140,
};

/** Per chord, by the degree of its root in the key (I, IV and V are plain; common practice). */
export const DEGREE_PRICE: readonly number[] = [0, 8, 28, 0, 0, 8, 12];

/** A change of chord, by the strength of the moment: on the bar it is expected, between beats it is not. */
export const CHANGE_PRICE: Readonly<Record<Strength, number>> = {
  4: 25,
  3: 40,
  2: 55,
  1: 125,
  0: 400,
};

/** Attention to a note outside the chord, by the strength of the moment at which it clashes first. */
const ACCENT: Readonly<Record<Strength, number>> = { 4: 1.4, 3: 1.3, 2: 1, 1: 0.6, 0: 0.5 };

/** How a line excuses a note outside the chord; the table's order is that of the textbook's non-chord tones. */
export function excuse(approach: Motion, departure: Motion): number {
  const from = approach.slice(0, 4);
  const to = departure.slice(0, 4);
  if (from === 'step' && to === 'step') return 0.4;
  if (from === 'same' && departure === 'step down') return 0.5;
  if (from === 'same' && departure === 'step up') return 0.7;
  if (from === 'step' && to === 'same') return 0.8;
  if (from === 'same' && to === 'same') return 0.7;
  if (from === 'leap' && to === 'step') return 1;
  if (from === 'step' && to === 'leap') return 1.2;
  if (from === 'leap' && to === 'same') return 1.3;
  return 2;
}

/**
 * Points for one note that lies outside the chord for some beats; `held` where it sounded before the chord could,
 * `stays` where it sounds on after the next possible change: then it does not pass, it waits.
 */
export function outsidePrice(
  note: LineNote,
  place: { beats: number; strength: Strength; held: boolean; stays: boolean; bass: boolean },
): number {
  const approach = place.held ? 'same' : note.approach;
  const suspended = approach === 'same' && note.departure.startsWith('step');
  const departure = place.stays && !suspended ? 'same' : note.departure;
  const line = excuse(approach, departure);
  const bass = place.bass ? PRICES.outsideInBass : 1;
  // A suspension belongs on a strong moment, and a pedal lies under all: their accent is no fault.
  const waits = suspended || (approach === 'same' && departure === 'same');
  const accent = waits ? Math.min(1, ACCENT[place.strength]) : ACCENT[place.strength];
  return PRICES.outside * place.beats * accent * line * bass;
}

/** Prices of a thinner set: one chord a bar, or one or two. What its chords clash with is priced as above. */
export const THINNING = {
  /** A dominant is left out although the chord that it leads to comes in on a bar. */
  cadence: 320,
  /** … comes in within a bar and is the next that is kept. */
  cadenceWithin: 110,
  /** … where who plays alone has one chord a bar and may move it. */
  cadenceAlone: 110,
  /** The tune has a note of a chord left out on the half of a bar (3) or its first (4), and the held chord has not. */
  tune: { 3: 50, 4: 100 } as Readonly<Partial<Record<Strength, number>>>,
  /** A chord that comes in within a bar is held over a bar line on which the voices have another. */
  syncopated: 300,
  /** A bar whose chords agree with the full reading for a third of its time or less: more than any bar can clash by. */
  ignored: 10_000,
  /** A beginner's second chord in a bar. */
  second: 120,
  /** … on a weak beat of a bar that has a half, on top: there is a better place for it. */
  weak: 280,
  /** A third chord in a bar, or a beginner's second one off the beat: more than any bar can clash by. */
  crowded: 100_000,
  /** Another chord than the one before. */
  change: 25,
  /** The same chord over another bass. */
  bass: 10,
} as const;
