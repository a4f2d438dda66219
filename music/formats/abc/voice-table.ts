import type { Meter, Ticks } from '../../score/score.ts';
import { quoted, type Report } from '../report.ts';
import type { DirectiveReader } from './directive-reader.ts';
import type { KeyField } from './fields.ts';
import { VoiceReader } from './voice-reader.ts';
import { readVoice, withSettings, type VoiceSettings } from './voices.ts';

/** What a voice begins with, as the head of the tune has it. */
export interface VoiceStart {
  readonly key: KeyField;
  readonly meter: Meter;
  readonly unit: Ticks | null;
}

/** The voices of a tune by their ids, and the one that is being read. */
export class VoiceTable {
  readonly #readers = new Map<string, VoiceReader>();
  readonly #settings = new Map<string, VoiceSettings>();
  readonly #directives: DirectiveReader;
  readonly #report: Report;
  readonly #start: () => VoiceStart;
  /** The voice that the last `V:` of the body names; null: none yet. */
  current: VoiceReader | null = null;
  /** Voices that were named before the first music. */
  #announced = 0;

  constructor(directives: DirectiveReader, report: Report, start: () => VoiceStart) {
    this.#directives = directives;
    this.#report = report;
    this.#start = start;
  }

  get all(): VoiceReader[] {
    return [...this.#readers.values()];
  }

  /** Whom a setting of the body is for: the voice that is being read; before there is one, all. */
  get addressed(): VoiceReader[] {
    return this.current ? [this.current] : this.all;
  }

  /** The music begins: what was named up to here was announced. */
  announce(): void {
    this.#announced = this.#settings.size;
  }

  /** `V:`, in the head or among the music. */
  field(value: string, line: number, column: number, where: 'head' | 'body' | 'music'): void {
    const id = /^[^\s]+/.exec(value)?.[0] ?? '';
    const known = this.#settings.get(id);
    const settings = readVoice(value, line, known, this.#report);
    if (!settings) {
      this.#report.problem('voice-odd', `V: ${quoted(value)} names no voice.`, { line, column });
      return;
    }
    if (this.#settings.size > 64) {
      const words = 'More than 64 voices are more than a page can hold.';
      this.#report.problem('too-many-voices', words, { line, column });
      return;
    }
    const { staves } = this.#directives;
    const announced = this.#announced > 1 || staves !== null;
    if (!known && announced && where === 'music' && !staves?.has(id)) {
      const words = `The voice ${quoted(id)} was not announced at the head.`;
      this.#report.warn('voice-unannounced', words, { line, column });
    }
    this.#settings.set(id, settings);
    if (where !== 'head') this.current = this.#readerOf(settings);
  }

  /** The voice that music without a `V:` belongs to. */
  here(line: number): VoiceReader {
    this.current ??= this.#readerOf({ id: '1', name: '1', clef: null, octaves: 0, line });
    return this.current;
  }

  #readerOf(settings: VoiceSettings): VoiceReader {
    const before = this.#readers.get(settings.id);
    if (before) return before;
    const start = this.#start();
    const own = withSettings(settings, start.key.settings, settings.line, this.#report);
    const reader = new VoiceReader(own, { ...start, known: this.#directives.known }, this.#report);
    this.#readers.set(settings.id, reader);
    return reader;
  }
}
