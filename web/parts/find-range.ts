import {
  Keys,
  Pitches,
  type PitchName,
  type Range,
  type RangeAnswer,
  type RangeSearch,
  type RangeStage,
  type VoiceKind,
} from '#music';
import { middleOf, type KeyboardKey } from './voice-keyboard.ts';

/** What looks for a range: see `find-range.svelte.ts` of the state. */
export interface RangeFinder {
  readonly search: RangeSearch | null;
  readonly stage: RangeStage | null;
  readonly asked: PitchName | null;
  readonly found: Range | null;
  /** What is sung now, C4 = 60, with fractions. */
  readonly sung: number | null;
  /** How long the asked note is held, 0–1. */
  readonly held: number;
  readonly octaveAway: -1 | 0 | 1;
  readonly hearing: 'off' | 'asking' | 'listening' | 'refused' | 'missing' | 'insecure';
  choose(voice: VoiceKind): void;
  answer(given: RangeAnswer): void;
  back(): void;
  beginAgain(): void;
  takeOctave(): void;
  sound(pitch: PitchName): void;
  listen(): Promise<void>;
  stopListening(): void;
}

/** `D3, 8 cents high`: the nearest key, and how far beside it. A half step has 100 cents. */
export function saySung(midi: number): string {
  const nearest = Math.round(midi);
  const cents = Math.round(100 * (midi - nearest));
  const name = Keys.sayNote(Pitches.keyNameOf(nearest));
  if (cents === 0) return name;
  return `${name}, ${Math.abs(cents)} ${Math.abs(cents) === 1 ? 'cent' : 'cents'} ${cents > 0 ? 'high' : 'low'}`;
}

/** Where a pitch stands over a row of keys, in widths of a white key: between keys it lies between; null: beyond them. */
export function placeOf(keys: readonly KeyboardKey[], midi: number): number | null {
  const below = middleOf(keys, Pitches.keyNameOf(Math.floor(midi)));
  const above = middleOf(keys, Pitches.keyNameOf(Math.ceil(midi)));
  if (below === null || above === null) return null;
  return below + (above - below) * (midi - Math.floor(midi));
}

const WAY = {
  first: 'One note in the middle',
  down: 'A step lower',
  up: 'A step higher',
} as const;

/** What is asked now, in a line. */
export function sayAsked(stage: RangeStage): string {
  return 'note' in stage ? `${WAY[stage.stage]}: ${Keys.sayNote(stage.note)}` : '';
}

/** What came out, and why it goes no further. */
export function sayFound(stage: Extract<RangeStage, { stage: 'found' }>, name: string): string {
  const { range, ends } = stage;
  const [low, high] = [Keys.sayNote(range.low), Keys.sayNote(range.high)];
  const both = low === high ? low : `${low} to ${high}`;
  const far = (['low', 'high'] as const)
    .filter((end) => ends[end] === 'not asked beyond')
    .map((end) => (end === 'low' ? `below ${low}` : `above ${high}`));
  const more =
    far.length > 0 ? ` Nothing ${far.join(' or ')} is asked here: that is far enough.` : '';
  return `${both} sits easily for ${name}.${more}`;
}

/** So few half steps are hardly a voice's range on a good day: a fifth (our own choice). */
const NARROW = 7;

export function isNarrow(range: Range): boolean {
  return Pitches.midiOf(range.high) - Pitches.midiOf(range.low) < NARROW;
}
