import { pitchOn } from '../../hand/candidates.ts';
import { tonesInHand } from '../../hand/chord-in-hand.ts';
import { ofShape } from '../../hand/fingering.ts';
import { REGISTER } from '../../hand/right-hand-options.ts';
import type { Shape } from '../../hand/shape.ts';
import type { Chord } from '../../pitch/chord.ts';
import { midiOf, pitchClassOf, type NoteName, type PitchName } from '../../pitch/pitch.ts';

/**
 * How a chord is voiced on the fourth rung. `full`: the top note with its octave below and the other tones between.
 * `open`: the left hand has the root, so the right leaves it out and spreads what remains (ours, after the common practice
 * of not doubling what the bass has).
 */
export type Voicing = 'full' | 'open';

export interface VoicingOptions {
  readonly voicing: Voicing;
  /** What is sung as the chord begins; null: nothing. */
  readonly sung: PitchName | null;
  /** The widest shape, in semitones. */
  readonly reach: number;
}

const [LOW, HIGH] = [midiOf(REGISTER.low), midiOf(REGISTER.high)];
const OCTAVE = 12;
const MOST = 4;
/** Semitones and notes beyond what is wanted are always fewer. */
const MORE_THAN_A_RANK = 32;

/**
 * The shapes in which a chord may be held, from the lowest up: all that are equally good by themselves. In this order of
 * weight: the tones that make the chord; the sung note on top, at its own pitch before another octave; the other tones; no
 * wider than an octave; the most notes, up to four. A note stands twice only as the outer two of an octave.
 */
export function voicingsOf(chord: Chord, options: VoicingOptions): Shape[] {
  const tones = tonesInHand(chord, MOST);
  const owed = owedBy(chord, tones, options);
  let best: number[][] = [];
  let least = Infinity;
  for (const keys of keySetsOf(tones.map(pitchClassOf), options.reach)) {
    const loss = lossOf(keys, owed, options);
    if (loss < least) [best, least] = [[], loss];
    if (loss === least) best.push(keys);
  }
  return best.map((keys): Shape => {
    const notes = keys.map((key) =>
      pitchOn(tones.find((tone) => pitchClassOf(tone) === key % 12) as NoteName, key),
    );
    return { notes, fingers: ofShape(notes, 'right') };
  });
}

interface Owed {
  /** What the right hand sounds. */
  readonly owed: readonly NoteName[];
  /** Those of them that make the chord: not the fifth of a seventh chord. */
  readonly needed: readonly NoteName[];
}

/** The root is not owed by an open chord where the left hand plays it and nobody sings it. */
function owedBy(chord: Chord, tones: readonly NoteName[], { voicing, sung }: VoicingOptions): Owed {
  const root = pitchClassOf(chord.root);
  const isBelow = chord.bass === null || pitchClassOf(chord.bass) === root;
  const isSung = sung !== null && midiOf(sung) % 12 === root;
  const isWithout = voicing === 'open' && isBelow && !isSung && tones.length > 2;
  const isOwed = (tone: NoteName) => !isWithout || pitchClassOf(tone) !== root;
  return { owed: tones.filter(isOwed), needed: tonesInHand(chord, MOST - 1).filter(isOwed) };
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
  { needed, owed }: Owed,
  { voicing, sung }: VoicingOptions,
): number {
  const [low, top] = [keys[0] ?? 0, keys.at(-1) ?? 0];
  const without = (tones: readonly NoteName[]): number =>
    tones.filter((tone) => !keys.some((key) => key % 12 === pitchClassOf(tone))).length;
  const tune = sung === null ? null : midiOf(sung);
  const missed = tune === null || top === tune ? 0 : top % 12 === tune % 12 ? 1 : 2;
  const wide = Math.max(0, top - low - OCTAVE);
  const thin = keys.length < 3 ? 1 : 0;
  const more = keys.filter((key) => !owed.some((tone) => key % 12 === pitchClassOf(tone))).length;
  // What an open chord has all its tones of is not doubled again.
  const most = voicing === 'open' && owed.length > 2 ? owed.length : MOST;
  const few = Math.max(0, most - keys.length);
  const doubled = Math.max(0, keys.length - most);
  const ranks = [without(needed), missed, without(owed), wide, thin, more, few, doubled];
  return ranks.reduce((sum, rank) => sum * MORE_THAN_A_RANK + rank, 0);
}
