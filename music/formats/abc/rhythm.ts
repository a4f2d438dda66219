import type { Meter, Ticks } from '../../score/score.ts';
import { WHOLE } from './fields.ts';
import type { Layer, ReadNote } from './layer.ts';
import { quoted, type At, type Report } from '../report.ts';
import type { Length, Token } from './token.ts';

const LONGEST: Ticks = 16 * WHOLE;

/** Gives a note its length: the written one, shortened by a tuplet, changed by a broken-rhythm sign before it. */
export function timeNote(
  note: ReadNote,
  length: Length,
  unit: Ticks,
  layer: Layer,
  report: Report,
): void {
  const place = { line: note.line, column: note.column };
  const { tuplet, broken, last } = layer;
  const { actual, normal } = tuplet ?? { actual: 1, normal: 1 };
  note.drawn = (unit * length.over) / length.under;
  // One division only, so that a length that comes out even is exactly so.
  note.length = (unit * length.over * normal) / (length.under * actual);
  if (tuplet) {
    note.tuplet = { actual, normal };
    tuplet.left -= 1;
    if (tuplet.left === 0) layer.tuplet = null;
  }
  if (broken && last) {
    const short = 1 / 2 ** broken.count;
    const [first, second] = broken.sign === '>' ? [2 - short, short] : [short, 2 - short];
    last.length *= first;
    last.drawn *= first;
    note.length *= second;
    note.drawn *= second;
    note.at = last.at + last.length;
    layer.broken = null;
    if (!Number.isInteger(last.length)) inexact(place, report);
  }
  if (!Number.isInteger(note.length)) {
    inexact(place, report);
    note.length = Math.max(1, Math.round(note.length));
  }
  if (note.length > LONGEST) {
    report.problem('length-impossible', 'A note is longer than sixteen whole notes.', place);
  }
}

function inexact(place: At, report: Report): void {
  const words = 'This length divides a beat in a way that cannot be counted exactly.';
  report.problem('length-not-exact', words, place);
}

/** What `(p:q:r` stands for; without q and r as ABC 2.1, 4.13 has it. */
export function startTuplet(
  token: Extract<Token, { kind: 'tuplet' }>,
  meter: Meter,
  layer: Layer,
  line: number,
  report: Report,
): void {
  const { column } = token;
  const compound = meter.unit >= 8 && meter.beats !== null && meter.beats % 3 === 0;
  const usual: Readonly<Record<number, number>> = { 2: 3, 3: 2, 4: 3, 6: 2, 8: 3 };
  const normal = token.q ?? usual[token.p] ?? (compound ? 3 : 2);
  const count = token.r ?? token.p;
  if (token.p < 2 || token.p > 9 || normal < 1 || normal > 16 || count < 1 || count > 64) {
    const words = `There is no tuplet of ${String(token.p)} in the time of ${String(normal)} over ${String(count)} notes.`;
    report.problem('tuplet-impossible', words, { line, column });
    return;
  }
  endTuplet(layer, report);
  layer.tuplet = { actual: token.p, normal, left: count, line, column };
}

export function endTuplet(layer: Layer, report: Report): void {
  const { tuplet } = layer;
  if (!tuplet) return;
  layer.tuplet = null;
  const words = `A tuplet of ${String(tuplet.actual)} has ${String(tuplet.left)} notes too few.`;
  report.warn('tuplet-not-full', words, { line: tuplet.line, column: tuplet.column });
}

/** `>` or `<` between two notes. */
export function startBroken(
  token: Extract<Token, { kind: 'broken' }>,
  layer: Layer,
  line: number,
  report: Report,
): void {
  const { column, sign } = token;
  if (layer.last) layer.broken = { sign, count: Math.min(token.count, 3), line, column };
  else
    report.warn('rhythm-without-note', `${quoted(sign)} needs a note before it.`, { line, column });
}

export function endBroken(layer: Layer, report: Report): void {
  if (!layer.broken) return;
  const { sign, line, column } = layer.broken;
  layer.broken = null;
  report.warn('rhythm-without-note', `${quoted(sign)} needs a note behind it.`, { line, column });
}
