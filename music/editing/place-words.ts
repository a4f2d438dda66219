import { sayNote } from '../pitch/key.ts';
import type { PitchName } from '../pitch/pitch.ts';
import { listed } from '../score/number-words.ts';
import { QUARTER, type Bar, type Note, type Score, type Ticks } from '../score/score.ts';
import { barAt, endOf, feltBeat, isPickup, meterAt, placeOf, unitTicks } from '../score/time.ts';

const FRACTIONS: Readonly<Record<number, string>> = { 3: '¼', 4: '⅓', 6: '½', 8: '⅔', 9: '¾' };

/** `2`, `2½`, `1⅓`, `3.2`. */
function sayNumber(value: number): string {
  const whole = Math.floor(value);
  const twelfths = 12 * (value - whole);
  const sign = FRACTIONS[Math.round(twelfths)];
  if (Math.abs(twelfths - Math.round(twelfths)) < 1e-6) {
    if (Math.round(twelfths) === 0) return String(whole);
    if (sign) return `${whole === 0 ? '' : whole}${sign}`;
  }
  return String(Math.round(100 * value) / 100);
}

/** `bar 3`, `the pickup`; of a song without time `line 3`. */
export function sayBar(score: Score, bar: Bar): string {
  if (isPickup(bar)) return 'the pickup';
  return `${score.untimed ? 'line' : 'bar'} ${bar.number}`;
}

const COMPOUND: Readonly<Record<number, string>> = { 8: 'eighth', 16: 'sixteenth' };

/**
 * `bar 3, beat 2½`, `the pickup, beat 4`; of a song without time its line. Where three of the lower figure's note make a
 * beat, those are counted: `bar 3, eighth 7` in 9/8, for beats are three there.
 */
export function sayPlace(score: Score, at: Ticks): string {
  if (at >= endOf(score)) return 'after the last bar';
  const bar = barAt(score, at);
  if (score.untimed) return sayBar(score, bar);
  const meter = meterAt(score, bar.at);
  const isCompound = feltBeat(meter) > unitTicks(meter.unit);
  const counted = isCompound ? (COMPOUND[meter.unit] ?? `${meter.unit}th`) : 'beat';
  return `${sayBar(score, bar)}, ${counted} ${sayNumber(placeOf(score, at).beat)}`;
}

/** `bar 3`, `bar 3, beat 4`. */
export function sayBegin(score: Score, bar: Bar, at: Ticks): string {
  return at === bar.at ? sayBar(score, bar) : sayPlace(score, at);
}

export function capital(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}

/** `G4`, `C4, E♭4 and G4`, `a rest`. */
export function sayPitches(pitches: readonly PitchName[]): string {
  return pitches.length === 0 ? 'a rest' : listed(pitches.map(sayNote));
}

const LENGTHS: readonly (readonly [name: string, quarters: number])[] = [
  ['breve', 8],
  ['whole', 4],
  ['half', 2],
  ['quarter', 1],
  ['eighth', 1 / 2],
  ['16th', 1 / 4],
  ['32nd', 1 / 8],
  ['64th', 1 / 16],
];
const TUPLETS: Readonly<Record<number, string>> = { 2: 'duplet', 3: 'triplet', 5: 'quintuplet' };

/** `a quarter`, `a dotted half`, `a triplet eighth`, `2½ quarters`. */
export function sayLength(length: Ticks, tuplet?: Note['tuplet']): string {
  if (tuplet) {
    const name = TUPLETS[tuplet.actual] ?? `${tuplet.actual}-tuplet`;
    const plain = sayLength((length * tuplet.actual) / tuplet.normal);
    return `a ${name} ${plain.replace(/^an? /, '')}`;
  }
  for (const [name, quarters] of LENGTHS) {
    const ticks = quarters * QUARTER;
    if (length === ticks) return `${name === 'eighth' ? 'an' : 'a'} ${name}`;
    if (length === 1.5 * ticks) return `a dotted ${name}`;
    if (length === 1.75 * ticks) return `a double-dotted ${name}`;
  }
  const quarters = sayNumber(length / QUARTER);
  return quarters === '0' ? 'no time' : `${quarters} quarters`;
}
