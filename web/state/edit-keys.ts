import type { Letter, PitchName } from '#music';
import type { Base } from './edit-length.ts';

/** What stands open below the music. */
export type Panel = 'notes' | 'words' | 'chords' | 'sections' | 'bars' | 'form';

/** One thing that a person asks for, by a key of the computer, a drawn key or a button. */
export type EditCommand =
  /** `half beat`: where chords are written. */
  | { readonly to: 'move'; readonly by: 'note' | 'half beat' | 'bar'; readonly direction: -1 | 1 }
  | { readonly to: 'go'; readonly end: 'start' | 'end' }
  | {
      readonly to: 'pitch';
      readonly by: 'step' | 'semitone' | 'octave';
      readonly direction: -1 | 1;
    }
  /** `add`: to the note that is there. */
  | { readonly to: 'letter'; readonly letter: Letter; readonly add: boolean }
  | { readonly to: 'play'; readonly pitch: PitchName; readonly add: boolean }
  | { readonly to: 'alter'; readonly alter: -1 | 0 | 1 }
  | { readonly to: 'length'; readonly base: Base }
  | { readonly to: 'dot' | 'triplet' | 'relength' | 'rest' | 'erase' | 'erase here' }
  | { readonly to: 'tie' | 'slur' | 'fermata' }
  | { readonly to: 'voice'; readonly direction: -1 | 1 }
  | { readonly to: 'undo' | 'redo' | 'help' | 'listen' }
  /** `begun`: with which letter. */
  | { readonly to: 'chord'; readonly begun?: Letter }
  | { readonly to: 'show'; readonly panel: Panel };

/** A key as the browser tells it (UI Events, KeyboardEvent). */
export interface KeyPress {
  readonly key: string;
  /** The place of the key, whatever its layout or Alt make of it: `KeyB`. */
  readonly code?: string;
  readonly ctrlKey?: boolean;
  readonly metaKey?: boolean;
  readonly altKey?: boolean;
  readonly shiftKey?: boolean;
}

const LENGTHS: Readonly<Record<string, Base>> = { 1: 1, 2: 2, 3: 4, 4: 8, 5: 16 };

const PLAIN: Readonly<Record<string, EditCommand>> = {
  Home: { to: 'go', end: 'start' },
  End: { to: 'go', end: 'end' },
  Backspace: { to: 'erase' },
  Delete: { to: 'erase here' },
  '.': { to: 'dot' },
  t: { to: 'triplet' },
  x: { to: 'relength' },
  '0': { to: 'rest' },
  r: { to: 'rest' },
  '-': { to: 'tie' },
  '(': { to: 'slur' },
  u: { to: 'fermata' },
  // `_`, `^` and `=` as in ABC 2.1, 4.2: B is a note, so that it cannot be the flat.
  '#': { to: 'alter', alter: 1 },
  '^': { to: 'alter', alter: 1 },
  _: { to: 'alter', alter: -1 },
  n: { to: 'alter', alter: 0 },
  '=': { to: 'alter', alter: 0 },
  v: { to: 'voice', direction: 1 },
  h: { to: 'chord' },
  w: { to: 'show', panel: 'words' },
  s: { to: 'show', panel: 'sections' },
  m: { to: 'show', panel: 'bars' },
  p: { to: 'show', panel: 'form' },
  '?': { to: 'help' },
  ' ': { to: 'listen' },
};

/** The keys as the help sheet lists them. */
export const KEY_LIST: readonly (readonly [keys: string, does: string])[] = [
  ['← →', 'to the note before, to the next one; with Ctrl bar by bar'],
  ['Home, End', 'to the beginning, to the end'],
  ['A – G', 'write that note in the chosen length; with Shift it joins the note before'],
  ['↑ ↓', 'the note goes a step up or down; with Alt a half step, with Shift an octave'],
  ['1 2 3 4 5', 'whole, half, quarter, eighth, sixteenth'],
  ['. and T', 'dotted, triplet'],
  ['X', 'the note here takes the chosen length'],
  ['0 or R', 'a rest'],
  ['# or ^', 'sharp'],
  ['_ or Alt+B', 'flat'],
  ['= or N', 'natural'],
  ['- and (', 'tie or slur to the next note'],
  ['U', 'fermata'],
  ['Backspace', 'erases the note, or the one before'],
  ['V', 'the next voice'],
  ['H', 'a chord here; Enter writes it, Tab goes on to the next beat, Shift+Tab back'],
  ['Space', 'the music sounds from here on; again: it stops'],
  ['W S M P', 'words, sections, bars, passes; Escape leads back to the music'],
  ['Ctrl+Z, Ctrl+Shift+Z', 'undo, redo'],
];

/** What the same keys do while chords are written. */
export const CHORD_KEY_LIST: readonly (readonly [keys: string, does: string])[] = [
  ['← →', 'to the beat before, to the next one, also under a note that is held'],
  ['Shift+← →', 'half a beat (in 6/8 an eighth), and wherever a note begins'],
  ['A – G', 'begin a chord there; Enter or H opens what stands there'],
  ['Backspace', 'takes the chord there away'],
];

function withControl(key: string, shift: boolean): EditCommand | null {
  if (key === 'z') return { to: shift ? 'redo' : 'undo' };
  if (key === 'y') return { to: 'redo' };
  if (key === 'arrowleft') return { to: 'move', by: 'bar', direction: -1 };
  if (key === 'arrowright') return { to: 'move', by: 'bar', direction: 1 };
  return null;
}

/** What a pressed key asks for; null: nothing of ours, and the browser goes on with it. */
export function commandOf(press: KeyPress): EditCommand | null {
  const { key, code = '', altKey = false, shiftKey = false } = press;
  const low = key.toLowerCase();
  if (press.ctrlKey || press.metaKey) return altKey ? null : withControl(low, shiftKey);
  if (key === 'ArrowUp' || key === 'ArrowDown') {
    const by = altKey ? 'semitone' : shiftKey ? 'octave' : 'step';
    return { to: 'pitch', by, direction: key === 'ArrowUp' ? 1 : -1 };
  }
  if (altKey) return code === 'KeyB' ? { to: 'alter', alter: -1 } : null;
  if (key === 'ArrowLeft') return { to: 'move', by: 'note', direction: -1 };
  if (key === 'ArrowRight') return { to: 'move', by: 'note', direction: 1 };
  if (/^[a-g]$/.test(low)) {
    return { to: 'letter', letter: low.toUpperCase() as Letter, add: shiftKey };
  }
  const base = LENGTHS[key];
  if (base) return { to: 'length', base };
  return PLAIN[key] ?? PLAIN[low] ?? null;
}

/** The same while chords are written: letters begin a chord, arrows go by beats. */
export function chordCommandOf(press: KeyPress): EditCommand | null {
  const { key, altKey = false, shiftKey = false } = press;
  const isPlain = !altKey && !press.ctrlKey && !press.metaKey;
  if (isPlain && key === 'Enter') return { to: 'chord' };
  if (isPlain && shiftKey && key === 'ArrowLeft') return { to: 'move', by: 'half beat', direction: -1 }; // prettier-ignore
  if (isPlain && shiftKey && key === 'ArrowRight') return { to: 'move', by: 'half beat', direction: 1 }; // prettier-ignore
  const command = commandOf(press);
  return command?.to === 'letter' ? { to: 'chord', begun: command.letter } : command;
}
