import type { NoteName } from './pitch.ts';

export const MODES = [
  'major',
  'minor',
  'dorian',
  'phrygian',
  'lydian',
  'mixolydian',
  'locrian',
] as const;
export type Mode = (typeof MODES)[number];

/** A key: `{ tonic: 'E', mode: 'minor' }`. */
export interface Key {
  readonly tonic: NoteName;
  readonly mode: Mode;
}
