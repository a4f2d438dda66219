import type { Problem } from '../../result.ts';
import type { ChordToken } from './chord-tokens.ts';
import type { Token } from './columns.ts';
import { timesOf } from './headings.ts';
import type { PlacedChord, ReadWord } from './line.ts';

export const quoted = (text: string): string =>
  `“${text.length > 40 ? `${text.slice(0, 39)}…` : text}”`;

/** What the words of a line were taken for, as it is read. */
export interface Parts {
  readonly words: ReadWord[];
  readonly chords: PlacedChord[];
  readonly bars: Token[];
  readonly sung: Token[];
  readonly warnings: Problem[];
  times: number;
}

export const none = (): Parts => ({
  words: [],
  chords: [],
  bars: [],
  sung: [],
  warnings: [],
  times: 1,
});

export const said = (as: 'chords' | 'words' | 'nothing'): string =>
  as === 'nothing' ? 'You left it out.' : `You said it is ${as === 'chords' ? 'a chord' : 'sung'}.`;

/** Takes one token for a chord; what cannot be read is left out and told. */
export function takeChord(parts: Parts, token: ChordToken, line: number, marked: boolean): void {
  const { text, index, chord, problems } = token;
  const isRead = token.as === 'chord' || token.as === 'either';
  const place = { line, column: index + 1 };
  for (const { code, message } of problems) {
    const told = isRead ? message : `${quoted(text)} is no chord and is left out: ${message}`;
    parts.warnings.push({ code, message: told, ...place });
  }
  if (isRead) parts.chords.push({ token, chord });
  parts.words.push({
    column: index + 1,
    seen: token.column,
    text,
    as: isRead ? 'chords' : 'nothing',
    reason: marked
      ? said('chords')
      : isRead
        ? token.as === 'either'
          ? `${quoted(text)} can be a word too; on this line it is a chord.`
          : `${quoted(text)} is a chord symbol.`
        : (problems[0]?.message ?? `${quoted(text)} is no chord symbol.`),
    doubtful: !marked && (!isRead || token.as === 'either' || problems.length > 0),
    marked,
  });
}

export function takeOther(parts: Parts, token: ChordToken, line: number): void {
  const { text, index } = token;
  const column = index + 1;
  const base = { column, seen: token.column, text, doubtful: false, marked: false };
  if (token.as === 'times') {
    parts.times = timesOf(text) ?? 1;
    parts.words.push({ ...base, as: 'sign', reason: `The line is done ${parts.times} times.` });
  } else if (token.as === 'sign') {
    if (/[|]/.test(text)) parts.bars.push(token);
    parts.words.push({ ...base, as: 'sign', reason: 'A sign, no word and no chord.' });
  } else {
    const message = `${quoted(text)} stands among chords and is none, so it is left out.`;
    parts.warnings.push({ code: 'not-a-chord', message, line, column });
    parts.words.push({ ...base, as: 'nothing', reason: message, doubtful: true });
  }
}
