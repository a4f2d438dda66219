import { FRETS_IN_HAND, type HandPlace } from '../../hand/bass-hand.ts';
import { sayNeckPlace } from '../../hand/bass-places.ts';
import { intervalBetween, sayMove } from '../../pitch/interval.ts';
import { midiOf, noteOf } from '../../pitch/pitch.ts';
import { ENGLISH, type Says } from '../../pitch/says.ts';
import { counted } from '../../score/number-words.ts';
import type { Score, Ticks } from '../../score/score.ts';
import { barAt, feltBeat, meterAt } from '../../score/time.ts';
import { sayBeats } from '../../voice/say-beats.ts';
import { FELT_BEAT } from '../../voice/sung.ts';
import type { HeldBass } from './bass-notes.ts';
import type { BassMode } from './bass-song.ts';
import { neighboursOf } from '../changes.ts';
import { INTRODUCTION } from '../form/introduction.ts';

/** A note of the bass with its place on the neck. */
export type PlacedBass = HeldBass & {
  readonly place: HandPlace;
  /** What it belongs to; `pedal`: a dominant that is held into a cadence. */
  readonly doing: BassMode | 'pedal';
};

/** More leaps than this are no longer a place to begin. */
const MOST_LEAPS = 2;

interface Leap {
  readonly before: PlacedBass;
  readonly after: PlacedBass;
  readonly time: Ticks;
  /** Frets that the hand moves along the neck. */
  readonly shift: number;
  /** Semitones. */
  readonly far: number;
}

/**
 * The hardest ways on the neck, each pair of places once with its least time: the widest shift of the hand first, then the
 * widest way, then the quickest, then the first.
 */
function leaps(score: Score, held: readonly PlacedBass[]): Leap[] {
  const found = new Map<string, Leap>();
  const start = score.sections.find(({ id }) => id === INTRODUCTION)?.to ?? 0;
  for (const pair of neighboursOf(score, held)) {
    // The introduction repeats what comes in the song: the place to practise is there.
    if (pair.after.from < start) continue;
    const { before, after } = pair;
    const shift = Math.abs(after.place.position - before.place.position);
    const far = Math.abs(midiOf(after.pitch) - midiOf(before.pitch));
    const name = [before.pitch, before.place.position, after.pitch, after.place.position].join(' ');
    const known = found.get(name);
    if (far === 0 || (known && known.time <= pair.time)) continue;
    found.set(name, { ...pair, shift, far });
  }
  return [...found.values()].sort(
    (a, b) => b.shift - a.shift || b.far - a.far || a.time - b.time || a.after.from - b.after.from,
  );
}

/** What to practise first: `Practise first: G (E string, fret 3) up a fifth to D (open D string) in bar 3, after two beats. …`. */
export function practiceBass(
  score: Score,
  held: readonly PlacedBass[],
  says: Says = ENGLISH,
): string[] {
  return leaps(score, held)
    .slice(0, MOST_LEAPS)
    .map(({ before, after, time, shift }, place) => {
      const felt = (time / feltBeat(meterAt(score, before.from))) * FELT_BEAT;
      const way = sayMove(intervalBetween(before.pitch, after.pitch));
      const leap = `${sayPlaced(before, says)} ${way} to ${sayPlaced(after, says)} in ${sayBar(score, after.from)}, after ${sayBeats(felt)}${sayShift(before, after, shift)}.`;
      return place === 0
        ? `Practise first: ${leap} Back and forth between the two until the hand knows the way.`
        : `Then: ${leap}`;
    });
}

function sayShift(before: PlacedBass, after: PlacedBass, shift: number): string {
  if (shift === 0) return '';
  const { position } = after.place;
  const way = position > before.place.position ? 'up' : 'down';
  const frets = `frets ${position} to ${position + FRETS_IN_HAND - 1}`;
  return `; the hand goes ${way} ${counted(shift, 'fret', 'frets')}, to ${frets}`;
}

/** `G (E string, fret 3)`. */
export function sayPlaced(
  { pitch, place }: Pick<PlacedBass, 'pitch' | 'place'>,
  says: Says = ENGLISH,
): string {
  return `${says.note(noteOf(pitch))} (${sayNeckPlace(place, says)})`;
}

function sayBar(score: Score, at: Ticks): string {
  const { number } = barAt(score, at);
  return number === 0 ? 'the pickup' : `bar ${number}`;
}
