import type { Meter, Tempo } from '../../score/score.ts';
import type { OwnDirective } from './directive-reader.ts';
import type { FactsReader } from './facts.ts';
import type { KeyField } from './fields.ts';
import type { PrintedLine } from './verses.ts';
import type { VoiceReader } from './voice-reader.ts';
import type { Place } from './voices.ts';

/** The order of the parts, as `P:` in the head has it. */
export interface PartOrder {
  readonly parts: readonly string[];
  readonly line: number;
}

/** Everything a tune says, voice by voice, before it is put together. */
export interface ReadTune {
  readonly facts: FactsReader;
  readonly key: KeyField;
  readonly meter: Meter;
  /** In the head; changes stand with the voices. */
  readonly tempo: Tempo | null;
  readonly voices: readonly VoiceReader[];
  readonly staves: ReadonlyMap<string, Place> | null;
  /** Words printed below the music. */
  readonly printed: readonly PrintedLine[];
  readonly own: readonly OwnDirective[];
  readonly order: PartOrder | null;
  readonly lastLine: number;
}
