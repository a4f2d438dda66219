import { tonesOf } from '../../pitch/chord-symbol.ts';
import type { Chord } from '../../pitch/chord.ts';
import { scaleOf, type Key } from '../../pitch/key.ts';
import { pitchClassOf, type NoteName } from '../../pitch/pitch.ts';
import { ENGLISH, type Says } from '../../pitch/says.ts';
import type { Tempo } from '../score.ts';
import { halfStepsUp, soundsLike } from './key-distance.ts';
import { dominantOf, homeOf, pivotsBetween, triadsOf } from './pivots.ts';
import { bridge, type TempoBridge } from './tempo-bridge.ts';

export { pivotsBetween, triadsOf } from './pivots.ts';
export type { Pivot, ScaleTriad } from './pivots.ts';
export type { TempoBridge } from './tempo-bridge.ts';

export const WAY_KINDS = [
  'straight on',
  'common chord',
  'dominant',
  'step up',
  'held bass',
  'loop',
] as const;
export type WayKind = (typeof WAY_KINDS)[number];

/** The end of a song, or the start of one. */
export interface SongEdge {
  readonly key: Key;
  readonly tempo: Tempo | null;
}

/** One way from song to song. */
export interface Way {
  readonly kind: WayKind;
  /** What is played between, a bar each; none: at once. */
  readonly chords: readonly Chord[];
  /** A loop is played over and over until the words are spoken; its bars are the first of `chords`. */
  readonly looped: number;
  /** `Am is vi in C and ii in G; then D7, and G is home`. */
  readonly words: string;
}

export interface Transition {
  /** Those that there are, in the order of `WAY_KINDS`. */
  readonly ways: readonly Way[];
  readonly tempo: TempoBridge;
}

/**
 * The ways from one song's end to the next one's start, with the chords between (Open Music Theory,
 * "Modulation"): straight on where the key stays; by a chord that is in both keys; by the dominant of the new key; a step
 * up at the start of a phrase; with the bass held under a chord of the new key; after a soft loop under spoken words.
 * @param says what notes and chords are called in the words
 */
export function between(from: SongEdge, to: SongEdge, says: Says = ENGLISH): Transition {
  const [old, key] = [from.key, to.key];
  const ways = [
    straight(old, key, says),
    byPivot(old, key, says),
    byDominant(old, key, says),
    stepUp(old, key, says),
    heldBass(old, key, says),
    loop(old, key, says),
  ];
  return { ways: ways.filter((way) => way !== null), tempo: bridge(from.tempo, to.tempo) };
}

/** `F`; of other modes `E minor`. */
function inKey({ tonic, mode }: Key, says: Says): string {
  return mode === 'major' ? says.note(tonic) : `${says.note(tonic)} ${mode}`;
}

function straight(from: Key, to: Key, says: Says): Way | null {
  if (!soundsLike(from, to)) return null;
  return {
    kind: 'straight on',
    chords: [],
    looped: 0,
    words: `both in ${inKey(to, says)}: go straight on`,
  };
}

function byPivot(from: Key, to: Key, says: Says): Way | null {
  if (soundsLike(from, to)) return null;
  const [pivot] = pivotsBetween(from, to);
  if (!pivot) return null;
  const dominant = dominantOf(to);
  const isRole = `${says.chord(pivot.chord)} is ${pivot.from.role} in ${inKey(from, says)} and ${pivot.to.role} in ${inKey(to, says)}`;
  return {
    kind: 'common chord',
    chords: [pivot.chord, dominant],
    looped: 0,
    words: `${isRole}; then ${says.chord(dominant)}, and ${says.chord(homeOf(to))} is home`,
  };
}

function byDominant(from: Key, to: Key, says: Says): Way | null {
  if (soundsLike(from, to)) return null;
  const dominant = dominantOf(to);
  return {
    kind: 'dominant',
    chords: [dominant],
    looped: 0,
    words: `${says.chord(dominant)} for a bar, and ${says.chord(homeOf(to))} is home`,
  };
}

const STEPS: Readonly<Record<number, string>> = { 1: 'a half step', 2: 'a whole step' };

function stepUp(from: Key, to: Key, says: Says): Way | null {
  const by = STEPS[halfStepsUp(from, to)];
  if (!by || from.mode !== to.mode) return null;
  return {
    kind: 'step up',
    chords: [],
    looped: 0,
    words: `up ${by} at once, where a phrase begins: ${says.chord(homeOf(from))}, then ${says.chord(homeOf(to))}`,
  };
}

/** The old tonic, else its fifth, stays in the bass under the dominant of the new key, or under a chord before it. */
function heldBass(from: Key, to: Key, says: Says): Way | null {
  if (soundsLike(from, to)) return null;
  const scale = scaleOf(from);
  const dominant = dominantOf(to);
  const others = triadsOf(to).filter(({ degree }) => [4, 2, 6].includes(degree));
  const chords = [dominant, ...others.map(({ chord }) => chord)];
  for (const bass of [scale[0], scale[4]] as NoteName[]) {
    const chord = chords.find((each) =>
      tonesOf(each).some((tone) => pitchClassOf(tone) === pitchClassOf(bass)),
    );
    if (!chord) continue;
    const spelled =
      tonesOf(chord).find((tone) => pitchClassOf(tone) === pitchClassOf(bass)) ?? bass;
    const over: Chord = { ...chord, bass: spelled === chord.root ? null : spelled };
    const rest = chord === dominant ? [] : [dominant];
    const then = rest.map((each) => `, then ${says.chord(each)}`).join('');
    return {
      kind: 'held bass',
      chords: [over, ...rest],
      looped: 0,
      words: `hold ${says.chord({ root: spelled, kind: 'major', degrees: [], bass: null })} in the bass under ${says.chord(over)}${then}`,
    };
  }
  return null;
}

/** The old tonic and its subdominant, softly; then the dominant of the new key. */
function loop(from: Key, to: Key, says: Says): Way {
  const [home, fourth] = [homeOf(from), triadsOf(from)[3]?.chord ?? homeOf(from)];
  const leading = soundsLike(from, to) ? [] : [dominantOf(to)];
  const end = leading.map((chord) => `, then ${says.chord(chord)}`).join('');
  return {
    kind: 'loop',
    chords: [home, fourth, ...leading],
    looped: 2,
    words: `${says.chord(home)} and ${says.chord(fourth)}, softly, as long as somebody speaks${end}`,
  };
}
