import type { Problem } from '../../result.ts';
import { decode } from '../bytes.ts';

/** Notes in all that are read of one track. */
export const MOST_NOTES = 50_000;
/** Texts that are read of one track. */
const MOST_TEXTS = 20_000;
/** Letters of one text; the standard sets no bound, a page of words has two thousand. */
const LONGEST_TEXT = 4000;

/** Moments and lengths in ticks of the file. */
export interface SmfNote {
  /** 0–15; 9 is the drums (General MIDI 1). */
  readonly channel: number;
  readonly midi: number;
  /** How hard it is struck, 1–127. */
  readonly force: number;
  readonly at: number;
  readonly end: number;
}

export type TextKind = 'text' | 'copyright' | 'name' | 'instrument' | 'lyric' | 'marker' | 'cue';

export interface SmfText {
  readonly at: number;
  readonly kind: TextKind;
  readonly text: string;
}

export interface SmfTrack {
  readonly index: number;
  readonly notes: readonly SmfNote[];
  readonly texts: readonly SmfText[];
  readonly tempos: readonly { readonly at: number; readonly microseconds: number }[];
  readonly meters: readonly {
    readonly at: number;
    readonly beats: number;
    readonly unit: number;
  }[];
  readonly keys: readonly {
    readonly at: number;
    readonly fifths: number;
    readonly minor: boolean;
  }[];
  /** Where it ends. */
  readonly end: number;
}

const TEXTS: readonly (TextKind | undefined)[] = [
  undefined,
  'text',
  'copyright',
  'name',
  'instrument',
  'lyric',
  'marker',
  'cue',
];

/** Reads the events of one track; `isCut`: the file ends before the track does. */
export function readTrack(
  bytes: Uint8Array,
  index: number,
  isCut: boolean,
  warnings: Problem[],
): SmfTrack {
  const reader = new TrackReader(bytes, index);
  reader.read();
  const name = `Track ${String(index + 1)}`;
  const warn = (code: string, message: string): void => void warnings.push({ code, message });
  if (isCut || (reader.garbled === null && !reader.ended)) {
    warn('track-cut-off', `${name} has no end: notes may be missing from it.`);
  } else if (reader.garbled !== null) {
    const place = `${String(reader.garbled + 1)} of ${String(bytes.length)}`;
    warn(
      'track-garbled',
      `${name} cannot be read from its byte ${place} on; what follows there is left out.`,
    );
  }
  if (reader.unended > 0) {
    const words = reader.unended === 1 ? 'A note' : `${String(reader.unended)} notes`;
    warn(
      'note-without-end',
      `${words} of ${name.toLowerCase()} never ${reader.unended === 1 ? 'ends' : 'end'}; the end of the track is taken.`,
    );
  }
  if (reader.full) {
    warn('too-long', `${name} has more than ${String(MOST_NOTES)} notes; the others are left out.`);
  }
  return reader;
}

interface Stroke {
  readonly at: number;
  readonly force: number;
}

class TrackReader implements SmfTrack {
  readonly index: number;
  readonly notes: SmfNote[] = [];
  readonly texts: SmfText[] = [];
  readonly tempos: { at: number; microseconds: number }[] = [];
  readonly meters: { at: number; beats: number; unit: number }[] = [];
  readonly keys: { at: number; fifths: number; minor: boolean }[] = [];
  end = 0;
  /** Index of the byte from which nothing is understood. */
  garbled: number | null = null;
  ended = false;
  full = false;
  unended = 0;
  readonly #bytes: Uint8Array;
  /** By channel and pitch: when it is struck, and when let go. */
  readonly #strokes = new Map<number, { readonly ons: Stroke[]; readonly offs: number[] }>();
  #struck = 0;
  #at = 0;
  #status = 0;

  constructor(bytes: Uint8Array, index: number) {
    this.#bytes = bytes;
    this.index = index;
  }

  read(): void {
    while (this.#at < this.#bytes.length && !this.ended && !this.full) {
      const from = this.#at;
      const delta = this.#variable();
      if (delta === null || !this.#event(delta)) {
        this.garbled = from;
        break;
      }
    }
    for (const [key, { ons, offs }] of this.#strokes) this.#pair(key, ons, offs);
    this.notes.sort((a, b) => a.at - b.at || a.channel - b.channel || a.midi - b.midi);
  }

  /**
   * Where every stroke is let go, the first to begin is the first to end (two voices in unison are two notes). Where an end is
   * missing, a note ends at the next end or stroke of its pitch, whichever comes first (common practice).
   */
  #pair(key: number, ons: readonly Stroke[], offs: readonly number[]): void {
    const isWhole = ons.length === offs.length;
    let next = 0;
    ons.forEach(({ at, force }, i) => {
      while (!isWhole && next < offs.length && (offs[next] ?? 0) <= at) next += 1;
      const off = (isWhole ? offs[i] : offs[next]) ?? null;
      const stroke = isWhole ? Infinity : (ons[i + 1]?.at ?? Infinity);
      if (off === null && stroke === Infinity) this.unended += 1;
      const end = Math.min(off ?? Infinity, stroke, this.end);
      if (end > at) this.notes.push({ channel: key >> 7, midi: key & 127, force, at, end });
    });
  }

  #byte(): number {
    return this.#bytes[this.#at++] ?? -1;
  }

  /** A number in sevens of bits, at most four bytes (RP-001). Null: it is longer, or the track ends in it. */
  #variable(): number | null {
    let value = 0;
    for (let i = 0; i < 4; i += 1) {
      const byte = this.#byte();
      if (byte < 0) return null;
      value = value * 128 + (byte & 0x7f);
      if (byte < 0x80) return value;
    }
    return null;
  }

  /** One event; false: there is none that the standard knows. */
  #event(delta: number): boolean {
    const first = this.#byte();
    if (first < 0) return false;
    this.end += delta;
    if (first === 0xff) return this.#meta();
    if (first === 0xf0 || first === 0xf7) return this.#skip();
    if (first > 0xf0) return false;
    // Running status: a byte below 128 where a status is due is the first value of the event before.
    if (first < 0x80) this.#at -= 1;
    else this.#status = first;
    return this.#status >= 0x80 && this.#channelEvent(this.#status >> 4, this.#status & 0x0f);
  }

  #channelEvent(kind: number, channel: number): boolean {
    const first = this.#byte();
    const second = kind === 0xc || kind === 0xd ? 0 : this.#byte();
    if (first < 0 || first > 127 || second < 0 || second > 127) return false;
    if (kind !== 8 && kind !== 9) return true;
    const key = channel * 128 + first;
    const strokes = this.#strokes.get(key) ?? { ons: [], offs: [] };
    this.#strokes.set(key, strokes);
    // A stroke of no strength is an end (RP-001).
    const isEnd = kind === 8 || second === 0;
    if (isEnd && strokes.offs.length < strokes.ons.length) strokes.offs.push(this.end);
    else if (!isEnd && this.#struck >= MOST_NOTES) this.full = true;
    else if (!isEnd) {
      this.#struck += 1;
      strokes.ons.push({ at: this.end, force: second });
    }
    return true;
  }

  #skip(): boolean {
    const length = this.#variable();
    if (length === null || this.#at + length > this.#bytes.length) return false;
    this.#at += length;
    return true;
  }

  #meta(): boolean {
    const type = this.#byte();
    const length = this.#variable();
    if (type < 0 || length === null || this.#at + length > this.#bytes.length) return false;
    const data = this.#bytes.subarray(this.#at, this.#at + length);
    this.#at += length;
    const at = this.end;
    const [first = 0, second = 0, third = 0] = data;
    const kind = TEXTS[type];
    if (type === 0x2f) this.ended = true;
    else if (kind && this.texts.length < MOST_TEXTS) {
      this.texts.push({ at, kind, text: decode(data.subarray(0, LONGEST_TEXT)).text });
    } else if (type === 0x51 && length === 3) {
      this.tempos.push({ at, microseconds: first * 65536 + second * 256 + third });
    } else if (type === 0x58 && length >= 2) {
      this.meters.push({ at, beats: first, unit: second > 6 ? 0 : 2 ** second });
    } else if (type === 0x59 && length === 2) {
      this.keys.push({ at, fifths: first > 127 ? first - 256 : first, minor: second === 1 });
    }
    return true;
  }
}
