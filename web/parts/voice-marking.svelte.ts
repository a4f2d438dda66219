import { Pitches, type PitchName, type Range } from '#music';
import {
  keyAfter,
  keysBetween,
  mark,
  middleOf,
  rangeOf,
  type End,
  type KeyboardKey,
  type Marked,
} from './voice-keyboard.ts';

/** What the keyboard is given: see `VoiceKeyboard.svelte`. */
export interface Given {
  readonly low: PitchName;
  readonly high: PitchName;
  readonly value: Range | null;
  readonly onpress: (pitch: PitchName) => void;
  readonly onchange: (range: Range) => void;
}

const NOTHING: Marked = { low: null, high: null };
/** Where to begin where nothing is marked: the ends of what most congregations sing (`Congregation`). */
const USUAL: Range = { low: 'A3', high: 'D5' };

/** Marking a range on keys: which end comes next, where one is, and half a range until the other end is there. */
export class Marking {
  /** The end that the next key marks; it goes on by itself to one that is not marked yet. */
  end = $state<End>('low');
  /** The key that was touched last. */
  #at = $state<PitchName | null>(null);
  #begun = $state<Marked>(NOTHING);
  readonly #given: () => Given;

  constructor(given: () => Given) {
    this.#given = given;
  }

  readonly marked: Marked = $derived.by(() => this.#given().value ?? this.#begun);
  readonly keys: readonly KeyboardKey[] = $derived.by(() =>
    keysBetween(this.#given().low, this.#given().high),
  );
  /** Index of the key where the keyboard is entered: the last one touched, else the end that is being marked. */
  readonly home: number = $derived.by(() => {
    const midi = Pitches.midiOf(this.#at ?? this.marked[this.end] ?? USUAL[this.end]);
    return Math.max(
      0,
      this.keys.findIndex((key) => key.midi === midi),
    );
  });

  choose(end: End): void {
    this.end = end;
    this.#at = null;
  }

  isEnd(key: KeyboardKey, end: End): boolean {
    const pitch = this.marked[end];
    return pitch !== null && Pitches.midiOf(pitch) === key.midi;
  }

  label(key: KeyboardKey): string {
    const low = this.isEnd(key, 'low') ? ', lowest' : '';
    return `${key.spoken}${low}${this.isEnd(key, 'high') ? ', highest' : ''}`;
  }

  /** Where an end stands, for a white key so wide; null: not marked, or beyond the keyboard. */
  placeOf(end: End, white: number): { pitch: PitchName; x: number } | null {
    const pitch = this.marked[end];
    const middle = pitch === null ? null : middleOf(this.keys, pitch);
    return pitch === null || middle === null ? null : { pitch, x: middle * white };
  }

  press({ pitch }: KeyboardKey): void {
    const { onpress, onchange } = this.#given();
    this.#at = pitch;
    onpress(pitch);
    const next = mark(this.marked, this.end, pitch);
    const range = rangeOf(next);
    this.#begun = range ? NOTHING : next;
    if (range) onchange(range);
    else if (next.high === null) this.end = 'high';
    else this.end = 'low';
  }

  /** A key of the computer leads from one key of the keyboard to another, which sounds; null: it leads nowhere. */
  walk(pressed: string, from: number): number | null {
    const to = keyAfter(pressed, from, this.keys.length);
    const key = to === null ? undefined : this.keys[to];
    if (to === null || !key) return null;
    this.#at = key.pitch;
    if (to !== from) this.#given().onpress(key.pitch);
    return to;
  }
}
