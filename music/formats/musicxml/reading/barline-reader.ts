import type { Report } from '../../report.ts';
import type { Where } from './note-reader.ts';
import type { ReadNote } from './read-note.ts';
import type { ReadMeasure, ReadPart } from './read-part.ts';
import { child, numberIn, textOf, type XmlNode } from './tree.ts';

/** `1`, `1, 2`, `1.-3.`: the passes that an ending is for. */
export function endingNumbers(text: string): number[] {
  const numbers: number[] = [];
  for (const piece of text.split(/[\s,]+/)) {
    const match = /^(\d{1,2})\.?(?:\s*[-–]\s*(\d{1,2})\.?)?$/.exec(piece);
    if (!match) continue;
    const from = Number(match[1]);
    const to = Math.min(Number(match[2] ?? from), 32);
    for (let number = from; number <= to && number <= 32; number += 1) {
      if (number > 0 && !numbers.includes(number)) numbers.push(number);
    }
  }
  return numbers.sort((a, b) => a - b);
}

/**
 * A fermata on a bar line holds what has sounded up to it: the last note of each voice before it has the sign.
 * @param part with the measure that is being read as its last
 */
function readFermata(node: XmlNode, part: ReadPart, where: Where, report: Report): void {
  const isLeft = node.attributes['location'] === 'left';
  const measure = part.measures.length - (isLeft ? 2 : 1);
  const last = new Map<string, ReadNote>();
  for (const note of part.notes) {
    if (note.measure !== measure) continue;
    const name = `${String(note.staff)} ${note.voice}`;
    const before = last.get(name);
    if (!before || before.at <= note.at) last.set(name, note);
  }
  const held = [...last.values()].filter(({ pitches }) => pitches.length > 0);
  for (const note of held) note.fermata = true;
  const [code, kept] =
    held.length > 0
      ? ['info-fermata-on-bar-line', 'it is kept on the last note before it']
      : ['fermata-on-bar-line', 'no note stands before it, so it is left out'];
  report.warn(code, `${where()} has a fermata on a bar line; ${kept}.`, { line: node.line });
}

/** `<barline>` into its measure, the last one of the part. */
export function readBarline(
  node: XmlNode,
  into: ReadMeasure,
  part: ReadPart,
  where: Where,
  report: Report,
): void {
  if (child(node, 'fermata')) readFermata(node, part, where, report);
  const location = node.attributes['location'] ?? 'right';
  const at = { line: node.line };
  if (location === 'middle') {
    report.warn('bar-line-inside', `${where()} has a bar line in its middle; it is left out.`, at);
    return;
  }
  const style = textOf(node, 'bar-style') || null;
  if (location === 'left') into.leftStyle = style ?? into.leftStyle;
  else into.rightStyle = style ?? into.rightStyle;
  const repeat = child(node, 'repeat')?.attributes;
  if (repeat?.['direction'] === 'forward') into.repeatStart = true;
  if (repeat?.['direction'] === 'backward') into.repeatEnd = true;
  const times = numberIn(repeat?.['times'] ?? '2') ?? 2;
  if (times > 2) {
    const words = `${where()} ends a repeat that is played ${String(times)} times; it is kept as a repeat.`;
    report.warn('repeat-times', words, at);
  }
  const ending = child(node, 'ending');
  if (!ending) return;
  if (ending.attributes['type'] === 'start') {
    const numbers = endingNumbers(ending.attributes['number'] ?? ending.text);
    if (numbers.length > 0) into.endingStart = numbers;
    else
      report.warn(
        'ending-odd',
        `${where()} begins an ending without a number; it is left out.`,
        at,
      );
  } else into.endingStop = true;
}
