import { pitchOn } from '../../hand/candidates.ts';
import { tonesInHand } from '../../hand/chord-in-hand.ts';
import { ofShape } from '../../hand/fingering.ts';
import { REGISTER } from '../../hand/right-hand-options.ts';
import type { Shape } from '../../hand/shape.ts';
import type { Chord } from '../../pitch/chord.ts';
import { midiOf, pitchClassOf, type NoteName, type PitchName } from '../../pitch/pitch.ts';
import { HIGHEST } from './fill-notes.ts';

/**
 * How a chord is voiced on the upper rungs. `closed`, the third: the three tones that make it, each once. `open` and `full`, the
 * fourth: the top note with its octave below and the other tones between; `open` leaves the fifth of four tones out, so that
 * more room is between them (ours). Never fewer than three different notes where the chord and the hand have them.
 */
export type Voicing = 'closed' | 'open' | 'full';

export interface VoicingOptions {
  readonly voicing: Voicing;
  /** What is sung as the chord begins; null: nothing. */
  readonly sung: PitchName | null;
  /** The widest shape, in semitones. */
  readonly reach: number;
}

const [LOW, HIGH] = [midiOf(REGISTER.low), HIGHEST];
const OCTAVE = 12;
const MOST = 4;
/** Semitones and notes beyond what is wanted are always fewer. */
const MORE_THAN_A_RANK = 32;

/**
 * The shapes in which a chord may be held, by their tops from the lowest up: under each top all that are equally good by
 * themselves. In this order of weight: the three tones that make the chord; the sung note on top, in whatever octave, which
 * `leastMotion` decides; then under each top for itself the other tones that its voicing has; no wider than an octave; no
 * note beside those tones; as many notes as the voicing has, up to four. A note stands twice only as the outer two of an octave.
 */
export function voicingsOf(chord: Chord, options: VoicingOptions): Shape[] {
  const tones = tonesInHand(chord, MOST);
  const all = keySetsOf(tones.map(pitchClassOf), options.reach);
  const needed = tonesInHand(chord, MOST - 1);
  const whole = least(all, (keys) => lacking(keys, needed));
  const { sung } = options;
  const isSung = (key: number): boolean => sung !== null && (key - midiOf(sung)) % OCTAVE === 0;
  const onTop = least(whole, (keys) => (isSung(topOf(keys)) ? 0 : 1));
  const owed = owedBy(tones, needed, options);
  const tops = new Set(onTop.map(topOf));
  return [...tops]
    .flatMap((top) =>
      least(
        onTop.filter((keys) => topOf(keys) === top),
        (keys) => lossOf(keys, owed, options),
      ),
    )
    .map((keys): Shape => {
      const notes = keys.map((key) =>
        pitchOn(tones.find((tone) => pitchClassOf(tone) === key % OCTAVE) as NoteName, key),
      );
      return { notes, fingers: ofShape(notes, 'right') };
    });
}

const topOf = (keys: readonly number[]): number => keys.at(-1) ?? 0;

const lacking = (keys: readonly number[], tones: readonly NoteName[]): number =>
  tones.filter((tone) => !keys.some((key) => key % OCTAVE === pitchClassOf(tone))).length;

/** All of which a loss is least. */
function least<T>(all: readonly T[], lossOf: (each: T) => number): T[] {
  const losses = all.map(lossOf);
  const best = Math.min(...losses);
  return all.filter((_, i) => losses[i] === best);
}

/** What the right hand sounds: the three tones that make the chord, what is sung, and in a full one all. */
function owedBy(
  tones: readonly NoteName[],
  needed: readonly NoteName[],
  { voicing, sung }: VoicingOptions,
): NoteName[] {
  const isSung = (tone: NoteName) => sung !== null && pitchClassOf(tone) === midiOf(sung) % OCTAVE;
  return tones.filter((tone) => voicing === 'full' || needed.includes(tone) || isSung(tone));
}

/** Every set of up to four keys of these tones within register and reach; only its outer notes may be an octave. */
function keySetsOf(classes: readonly number[], reach: number): number[][] {
  const found: number[][] = [];
  const grow = (chosen: readonly number[], from: number): void => {
    if (chosen.length > 0) found.push([...chosen]);
    const [lowest = from] = chosen;
    const isClosed = chosen.length > 1 && (chosen.at(-1) ?? 0) - lowest === OCTAVE;
    if (chosen.length === MOST || isClosed) return;
    for (let key = from; key <= Math.min(HIGH, chosen.length > 0 ? lowest + reach : HIGH); key++) {
      if (!classes.includes(key % 12)) continue;
      const twice = chosen.some((each) => each % 12 === key % 12);
      if (!twice || key - lowest === OCTAVE) grow([...chosen, key], key + 1);
    }
  };
  grow([], LOW);
  return found;
}

function lossOf(
  keys: readonly number[],
  owed: readonly NoteName[],
  { voicing }: VoicingOptions,
): number {
  const wide = Math.max(0, topOf(keys) - (keys[0] ?? 0) - OCTAVE);
  const more = keys.filter(
    (key) => !owed.some((tone) => key % OCTAVE === pitchClassOf(tone)),
  ).length;
  const size = voicing === 'closed' ? owed.length : MOST;
  const ranks = [lacking(keys, owed), wide, more, Math.abs(size - keys.length)];
  return ranks.reduce((sum, rank) => sum * MORE_THAN_A_RANK + rank, 0);
}
