import { FRETS_IN_HAND } from '../../hand/bass-hand.ts';
import { HAND_CAUTIONS, LOUDNESS } from '../../hand/cautions.ts';
import { midiOf } from '../../pitch/pitch.ts';
import { ENGLISH, type Says } from '../../pitch/says.ts';
import { counted, listed, sayTimes } from '../../score/number-words.ts';
import { melodyOf, placeOf } from '../../score/time.ts';
import { sayPlaced, type PlacedBass } from './bass-practice.ts';
import type { BassRung } from './bass-song.ts';
import { sayIntroductionBars } from '../form/introduction.ts';
import type { LaidOut } from '../laid-out.ts';

/**
 * How much there is to find, and that it is enough; where it lies stands at the head. `four notes; roots alone, one note at
 * a time: all of it enough for Sunday`.
 */
export function sumUpBass(
  held: readonly PlacedBass[],
  rung: BassRung,
  says: Says = ENGLISH,
): string {
  const notes = [...new Map(held.map((each) => [midiOf(each.pitch), each])).values()];
  const total = counted(notes.length, 'note', 'notes');
  const compass = rung === 3 ? sayCompass(notes, says) : '';
  const hand = rung === 1 ? '' : `; ${sayHand(held)}`;
  return `${total}${compass}; ${sayModes(held)}, one note at a time${hand}: all of it enough for Sunday`;
}

/** ` from F (E string, fret 1) up to C (A string, fret 3)`. */
function sayCompass(notes: readonly PlacedBass[], says: Says): string {
  const sorted = [...notes].sort((a, b) => midiOf(a.pitch) - midiOf(b.pitch));
  const [low, high] = [sorted[0], sorted.at(-1)];
  return low && high && low !== high
    ? ` from ${sayPlaced(low, says)} up to ${sayPlaced(high, says)}`
    : '';
}

/** What is played, in the order of the ladder: `roots alone`, `roots, fifths and steps into new chords`. */
function sayModes(held: readonly PlacedBass[]): string {
  const has = (what: PlacedBass['doing']) => held.some(({ doing }) => doing === what);
  const slash = held.some(({ entry }) => entry.chord.bass !== null);
  const modes = [
    ...(has('roots') || has('fifths') ? ['roots'] : []),
    ...(slash ? ['written slash basses'] : []),
    ...(has('fifths') ? ['fifths', 'steps into new chords'] : []),
    ...(has('written') ? ['the bass of the song'] : []),
    ...(has('walking') ? ['walking lines'] : []),
  ];
  return modes.join() === 'roots' ? 'roots alone' : listed(modes);
}

/** Where the hand lies on the neck: whether it stays, else how often it moves. */
function sayHand(held: readonly PlacedBass[]): string {
  const positions = held.map(({ place }) => place.position);
  const shifts = positions.filter((each, i) => i > 0 && each !== positions[i - 1]);
  const [low, high] = [Math.min(...positions), Math.max(...positions) + FRETS_IN_HAND - 1];
  const frets = `frets ${low} to ${high}`;
  if (shifts.length === 0) return `the hand stays on ${frets}`;
  return `the hand lies on ${frets} and moves along the neck ${sayTimes(shifts.length)}`;
}

/** When to begin, on which note, and when the singers come. */
export function sayBassStart(
  { song, introduction, whole, count }: LaidOut,
  held: readonly PlacedBass[],
  says: Says = ENGLISH,
): string {
  const [first] = held;
  const where = sayIntroductionBars(song, introduction);
  if (!first) return where;
  const note = sayPlaced(first, says);
  if (introduction.spans.length > 0) {
    const begin = `come in on its first chord with ${note}`;
    return [where, begin, count.entry].filter((words) => words !== '').join('; ');
  }
  const { bar, beat } = placeOf(whole, first.from);
  const sung = melodyOf(song).notes.find(({ pitches }) => pitches.length > 0);
  const alone = sung && sung.at < first.from ? 'the singers begin alone; ' : '';
  return `${where}; ${alone}come in on beat ${beat} of bar ${bar} with ${note}`;
}

/** For hands and ears. */
export const BASS_CAUTIONS: readonly string[] = [
  ...HAND_CAUTIONS.filter(({ id }) => id === 'pain').map(({ text }) => text),
  LOUDNESS.text,
];
