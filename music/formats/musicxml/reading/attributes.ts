import { UNISON, plusOctaves, type Interval } from '../../../pitch/interval.ts';
import { MODES, type Mode } from '../../../pitch/key.ts';
import type { Meter, Voice } from '../../../score/score.ts';
import { child, childrenOf, numberIn, numberOf, textOf, type XmlNode } from './tree.ts';

/** A key as a part prints it. */
export interface ReadKey {
  readonly signature: number;
  /** null: the file names no mode. */
  readonly mode: Mode | null;
}

const MODE_NAMES: Readonly<Record<string, Mode>> = { ionian: 'major', aeolian: 'minor' };

/** `<key>`; null where it is no signature of sharps or flats. */
export function readKey(node: XmlNode): ReadKey | null {
  const signature = numberOf(node, 'fifths');
  if (signature === null || !Number.isInteger(signature) || Math.abs(signature) > 7) return null;
  const name = textOf(node, 'mode').toLowerCase();
  const mode = MODES.find((each) => each === name) ?? MODE_NAMES[name] ?? null;
  return { signature, mode };
}

/** The notes that a lower figure can name. */
const UNITS = [1, 2, 4, 8, 16, 32, 64];

/** `<time>`: `3` over `4`, `3+2` over `8`, several figures in a row (which are added); null where it is no meter. */
export function readTime(node: XmlNode): Meter | null {
  if (child(node, 'senza-misura')) return { beats: null, unit: 4 };
  const uppers = childrenOf(node, 'beats').map(({ text }) =>
    text.split('+').map((each) => numberIn(each) ?? NaN),
  );
  const units = childrenOf(node, 'beat-type').map(({ text }) => numberIn(text) ?? NaN);
  if (uppers.length === 0 || uppers.length !== units.length) return null;
  if (units.some((unit) => !UNITS.includes(unit))) return null;
  const unit = Math.max(...units);
  let beats = 0;
  for (const [i, figures] of uppers.entries()) {
    for (const figure of figures) beats += (figure * unit) / (units[i] ?? unit);
  }
  return Number.isInteger(beats) && beats >= 1 && beats <= 64 ? { beats, unit } : null;
}

/** How far a part sounds from what is written: a B flat clarinet sounds a step lower. */
export function readTranspose(node: XmlNode): Interval | null {
  const semitones = numberOf(node, 'chromatic');
  if (semitones === null || !Number.isInteger(semitones) || Math.abs(semitones) > 36) return null;
  // Where the file gives no steps: of the two spellings of a black key's distance, the one with a flat.
  const usual =
    Math.sign(semitones) * ([0, 1, 1, 2, 2, 3, 4, 4, 5, 5, 6, 6][Math.abs(semitones) % 12] ?? 0);
  const octaves = Math.trunc(semitones / 12) * 7;
  const steps = numberOf(node, 'diatonic') ?? usual + octaves;
  const more = numberOf(node, 'octave-change') ?? 0;
  if (!Number.isInteger(steps) || !Number.isInteger(more) || Math.abs(more) > 3) return null;
  return semitones === 0 && steps === 0 && more === 0
    ? UNISON
    : plusOctaves({ steps, semitones }, more);
}

/** A clef that a score can hold; `other` where the nearest must be chosen, null where the staff has no pitches. */
export function readClef(node: XmlNode): Voice['clef'] | 'other' | null {
  const sign = textOf(node, 'sign');
  const line = numberOf(node, 'line');
  const octave = numberOf(node, 'clef-octave-change') ?? 0;
  if (sign === 'percussion' || sign === 'TAB' || sign === 'none') return null;
  const plain =
    sign === 'G' && (line ?? 2) === 2
      ? 'treble'
      : sign === 'F' && (line ?? 4) === 4
        ? 'bass'
        : null;
  if (!plain || octave > 0 || octave < -1) return 'other';
  return octave === -1 ? `${plain}-8` : plain;
}
