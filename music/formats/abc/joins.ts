import { QUARTER } from '../../score/score.ts';
import type { Layer, ReadNote } from './layer.ts';
import type { At, Report } from '../report.ts';

/** What a note has to do with the one before it: the tie that leads to it, and the beam. */
export function join(note: ReadNote, layer: Layer, report: Report): void {
  const { last } = layer;
  if (!last) return;
  if (last.tie && !note.pitches.some((pitch) => last.pitches.includes(pitch))) {
    last.tie = false;
    const place = { line: note.line, column: note.column };
    if (note.pitches.length === 0) {
      report.warn('tie-without-end', 'A tie leads to a rest; it is left out.', place);
    } else {
      last.slurStarts += 1;
      note.slurEnds += 1;
      const words = `A tie leads from ${last.pitches.join(' ')} to ${note.pitches.join(' ')}; it is read as a slur.`;
      report.warn('tie-to-other-note', words, place);
    }
  }
  const flagged = (each: ReadNote): boolean => each.pitches.length > 0 && each.drawn < QUARTER;
  if (layer.joined && flagged(last) && flagged(note)) last.beam = true;
}

export function tie(layer: Layer, dotted: boolean, at: At, report: Report): void {
  const { last } = layer;
  if (!last || last.pitches.length === 0) {
    report.warn('tie-without-note', 'A tie stands where no note is before it.', at);
    return;
  }
  last.tie = true;
  if (dotted && !last.signs.includes('dotted-tie')) last.signs.push('dotted-tie');
}

/** Slurs that were opened before a note begin on it; on a rest they cannot. */
export function openSlurs(note: ReadNote, count: number, layer: Layer, report: Report): void {
  if (count === 0) return;
  if (note.pitches.length === 0) {
    const place = { line: note.line, column: note.column };
    report.warn('slur-on-rest', 'A slur begins on a rest; it is left out.', place);
    return;
  }
  note.slurStarts = count;
  for (let n = 0; n < count; n += 1) layer.slurs.push(note);
}

export function closeSlur(layer: Layer, at: At, report: Report): void {
  const { last } = layer;
  if (layer.slurs.length === 0 || !last) {
    report.warn('slur-not-opened', 'A slur ends here and has no beginning.', at);
    return;
  }
  layer.slurs.pop();
  last.slurEnds += 1;
}

/** What is still open at the end is said and let go. */
export function endJoins(layer: Layer, report: Report): void {
  const { last } = layer;
  if (last?.tie) {
    last.tie = false;
    const place = { line: last.line, column: last.column };
    report.warn('tie-without-end', 'A tie at the end leads to no note.', place);
  }
  for (const note of layer.slurs) {
    note.slurStarts -= 1;
    const place = { line: note.line, column: note.column };
    report.warn('slur-not-closed', 'A slur begins here and never ends; it is left out.', place);
  }
}
