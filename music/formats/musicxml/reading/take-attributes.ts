import { fifthsOfInterval } from '../../../score/transpose.ts';
import { quoted, type Report } from '../../report.ts';
import { readClef, readKey, readTime, readTranspose } from './attributes.ts';
import type { Where } from './note-reader.ts';
import type { Moment, ReadPart } from './read-part.ts';
import { child, childrenOf, numberOf, textOf, type XmlNode } from './tree.ts';

/** Most divisions of a quarter note that any program writes are some ten thousand. */
const MOST_DIVISIONS = 1e6;

/** `<attributes>` into its part; the new divisions, where it gives any. */
export function takeAttributes(
  node: XmlNode,
  part: ReadPart,
  moment: Moment,
  where: Where,
  report: Report,
): number | null {
  const at = { line: node.line };
  const divisions = numberOf(node, 'divisions');
  const usable = divisions !== null && divisions > 0 && divisions <= MOST_DIVISIONS;
  if (!usable && child(node, 'divisions')) {
    const words = `${where()} gives divisions of ${quoted(textOf(node, 'divisions'))} to the quarter note.`;
    report.problem('divisions-odd', words, at);
  }
  const staves = numberOf(node, 'staves');
  if (staves !== null && staves >= 1 && staves <= 16) part.staves = staves;
  takeTranspose(node, part, where, report);
  for (const clef of childrenOf(node, 'clef')) takeClef(clef, part);
  takeKey(node, part, moment, where, report);
  const time = child(node, 'time');
  const meter = time && readTime(time);
  if (meter) part.meters.push({ ...moment, meter });
  else if (time) {
    const words = `${where()} has a meter that cannot be understood; the one before goes on.`;
    report.warn('meter-odd', words, at);
  }
  if (childrenOf(node, 'measure-style').some((style) => child(style, 'measure-repeat'))) {
    const words = `${where()} begins signs that repeat a bar; only notes that are written are read.`;
    report.warn('bar-repeat-signs', words, at);
  }
  return usable ? divisions : null;
}

function takeTranspose(node: XmlNode, part: ReadPart, where: Where, report: Report): void {
  const transpose = child(node, 'transpose');
  if (!transpose) return;
  const interval = readTranspose(transpose);
  if (interval) part.transpose = interval;
  else {
    const words = `${where()} is transposed by an interval that cannot be understood.`;
    report.problem('transpose-odd', words, { line: node.line });
  }
}

function takeClef(node: XmlNode, part: ReadPart): void {
  const staff = Number(node.attributes['number'] ?? '1');
  const clef = readClef(node);
  if (clef === null) return;
  const known = part.clefs.get(staff);
  if (known === undefined) part.clefs.set(staff, clef);
  else if (known !== clef) part.leftOut.add('changes of clef');
}

function takeKey(
  node: XmlNode,
  part: ReadPart,
  moment: Moment,
  where: Where,
  report: Report,
): void {
  const written = child(node, 'key');
  if (!written) return;
  const key = readKey(written);
  const sounding = key && key.signature + fifthsOfInterval(part.transpose);
  if (!key || sounding === null || Math.abs(sounding) > 12) {
    const words = `${where()} has a key signature that cannot be understood; the one before goes on.`;
    report.warn('key-odd', words, { line: node.line });
    return;
  }
  // Beyond seven signs the other spelling is meant: a part in B flat of a piece in C flat.
  const signature = sounding > 7 ? sounding - 12 : sounding < -7 ? sounding + 12 : sounding;
  part.keys.push({ ...moment, key: { ...key, signature } });
}
