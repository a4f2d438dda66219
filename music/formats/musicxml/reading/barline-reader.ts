import type { Report } from '../../report.ts';
import type { Where } from './note-reader.ts';
import type { ReadMeasure } from './read-part.ts';
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

/** `<barline>` into its measure. */
export function readBarline(node: XmlNode, into: ReadMeasure, where: Where, report: Report): void {
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
