import type { NameReading } from './chord-names.ts';
import { decide, weigh, type Decision, type Weighed } from './decide.ts';
import { anyFactOf, factOf } from './facts.ts';
import { headingOf, ownHeadingOf, prefixOf, saidHeading } from './headings.ts';
import {
  blankLine,
  chordsLine,
  headingLine,
  leftOut,
  wordsLine,
  type Source,
} from './known-line.ts';
import { marksByLine, type KnownLine } from './line.ts';
import type { TextMark } from './mark.ts';

/** What can be said of a line by itself. */
interface Alone extends Source {
  readonly blank: boolean;
  readonly prefix: ReturnType<typeof prefixOf>;
  readonly weighed: Weighed;
  readonly known: ReturnType<typeof headingOf>;
}

const SAID = { doubtful: false } as const;

function aloneOf(text: string, line: number, marks: Alone['marks'], reading: NameReading): Alone {
  const prefix = prefixOf(text);
  const length = prefix?.length ?? 0;
  const blanked = ' '.repeat(length) + text.slice(length);
  return {
    line,
    text,
    marks,
    reading,
    blank: text.trim() === '',
    prefix,
    weighed: weigh(blanked, reading),
    known: headingOf(text),
  };
}

/** Whether words stand on a line, going by the line alone. */
function isWords(alone: Alone | undefined): boolean {
  if (!alone || alone.blank || alone.known) return false;
  const { whole } = alone.marks;
  return whole ? whole === 'words' : decide(alone.weighed, false).as === 'words';
}

function decisionOf(alone: Alone, next: Alone | undefined, over = false): Decision {
  const { whole } = alone.marks;
  if (whole === 'chords' || whole === 'words') {
    return { as: whole, reason: `You said this line is ${whole}.`, ...SAID };
  }
  return decide(alone.weighed, isWords(next), over);
}

/** Every line of a text with what it was taken for. Linear in the text: a line is weighed once and looks one ahead. */
export function takeLines(
  texts: readonly string[],
  marks: readonly TextMark[],
  readings: (line: number) => NameReading,
): KnownLine[] {
  const of = marksByLine(marks);
  const alone = texts.map((text, i) => aloneOf(text, i + 1, of(i + 1), readings(i + 1)));
  const head = takeHead(alone);
  const lines = [...head];
  for (let i = head.length; i < alone.length; i += 1) {
    const over = lines.at(-1)?.as === 'chords';
    lines.push(takeBody(alone[i] as Alone, alone[i - 1], alone[i + 1], over));
  }
  return lines;
}

function takeBody(
  alone: Alone,
  before: Alone | undefined,
  next: Alone | undefined,
  over: boolean,
): KnownLine {
  const { marks, text } = alone;
  if (alone.blank) return blankLine(alone);
  if (marks.whole === 'nothing') return leftOut(alone, 'You left it out.', false);
  const fact = factOf(text);
  if (marks.whole === 'heading') {
    if (fact?.kind === 'key')
      return headingLine(alone, {
        names: 'fact',
        fact,
        reason: 'You said this line is a heading; it names a key.',
      });
    return headingLine(alone, {
      names: 'section',
      heading: saidHeading(text),
      reason: 'You said this line is a heading.',
    });
  }
  if (marks.whole === null) {
    if (alone.known) {
      const { name, note } = alone.known;
      const left = note === undefined ? '' : `; “${note}” beside it is left out`;
      const reason = `“${name}” alone on a line names a section${left}.`;
      return headingLine(alone, { names: 'section', heading: alone.known, reason });
    }
    if (fact?.kind === 'key') {
      return headingLine(alone, { names: 'fact', fact, reason: 'The line names a key.' });
    }
    const own = (!before || before.blank) && next && !next.blank ? ownHeadingOf(text) : null;
    if (own) {
      const reason = `A few words with a colon, after an empty line: taken for a section called “${own.name}”.`;
      return headingLine(alone, { names: 'section', heading: own, reason, doubtful: true });
    }
  }
  const decision = decisionOf(alone, next, over);
  const heading = alone.prefix?.heading ?? null;
  if (decision.as === 'nothing') return leftOut(alone, decision.reason, true);
  const take = decision.as === 'chords' ? chordsLine : wordsLine;
  return take(alone, alone.weighed, decision, heading);
}

/** Whether a line can only belong to the song itself. */
function beginsSong(alone: Alone, next: Alone | undefined): boolean {
  const { whole } = alone.marks;
  if (whole !== null) return whole === 'words' || whole === 'chords';
  if (factOf(alone.text)) return false;
  return alone.known !== null || alone.prefix !== null || decisionOf(alone, next).as === 'chords';
}

/** More lines than this over a song are its first stanza. */
const MOST_UNDER_TITLE = 2;

/** A doxology is a song of that name where it stands alone over it, else a section of another. */
function isOwnTitle({ known, marks }: Alone, next: Alone | undefined): boolean {
  return marks.whole === null && known?.kind === 'other' && known.times === 1 && !!next?.blank;
}

/** The lines over the song: its title, what is said about it, who wrote it. */
function takeHead(alone: readonly Alone[]): KnownLine[] {
  const lines: KnownLine[] = [];
  let titled = false;
  let credits = 0;
  for (let i = 0; i < alone.length; i += 1) {
    const each = alone[i] as Alone;
    const { whole } = each.marks;
    if (each.blank) {
      credits = 0;
      lines.push(blankLine(each));
      continue;
    }
    if (whole === 'nothing') {
      lines.push(leftOut(each, 'You left it out.', false));
      continue;
    }
    const isTitle = !titled && isOwnTitle(each, alone[i + 1]);
    if (isTitle) {
      lines.push(titleLine(each, 'The first line stands alone: it is the title.', true));
      titled = true;
      continue;
    }
    if (beginsSong(each, alone[i + 1])) break;
    const inBlock = lines.length > 0 && !alone[i - 1]?.blank;
    const fact = inBlock ? anyFactOf(each.text) : factOf(each.text);
    if (fact) {
      if (fact.kind === 'title') titled = true;
      const reason = `“${fact.label}:” over a song says something about it.`;
      lines.push(
        headingLine(each, {
          names: fact.kind === 'title' ? 'title' : fact.kind === 'credit' ? 'credit' : 'fact',
          fact,
          reason,
        }),
      );
      continue;
    }
    if (whole === 'heading') {
      if (titled || headingOf(each.text)) break;
      lines.push(
        titleLine(
          each,
          'You said this line is a heading; it is the first, so it is the title.',
          false,
        ),
      );
      titled = true;
      continue;
    }
    if (!titled) {
      const found = titleAt(alone, i);
      if (!found) break;
      lines.push(titleLine(each, found.reason, found.doubtful));
      titled = true;
      credits = found.credits;
      continue;
    }
    if (credits === 0) break;
    credits -= 1;
    const credit = { kind: 'credit', label: '', text: each.text.trim() } as const;
    const reason = 'A line between the title and the song says who wrote it.';
    lines.push(headingLine(each, { names: 'credit', fact: credit, reason, doubtful: true }));
  }
  return lines;
}

function titleLine(alone: Alone, reason: string, doubtful: boolean): KnownLine {
  const fact = { kind: 'title', label: '', text: alone.text.trim() } as const;
  return headingLine(alone, { names: 'title', fact, reason, doubtful });
}

/** Whether the first line is a title: it stands alone, or with two lines at most, over the song. */
function titleAt(
  alone: readonly Alone[],
  at: number,
): { reason: string; doubtful: boolean; credits: number } | null {
  let plain = 0;
  let i = at;
  for (; i < alone.length; i += 1) {
    const each = alone[i] as Alone;
    if (each.blank || beginsSong(each, alone[i + 1])) break;
    if (i === at || !anyFactOf(each.text)) plain += 1;
    if (plain > 1 + MOST_UNDER_TITLE) return null;
  }
  const stop = alone[i];
  const rest = alone.slice(i).find(({ blank }) => !blank);
  if (!stop || !rest) return null;
  if (plain === 1) {
    const reason = stop.blank
      ? 'The first line stands alone: it is the title.'
      : 'The first line stands before the song begins: it is taken for the title.';
    return { reason, doubtful: !stop.blank, credits: 0 };
  }
  const song = alone.slice(i).find(({ blank, text }) => !blank && !factOf(text));
  if (!stop.blank || !song || !beginsSong(song, alone[song.line])) return null;
  return {
    reason: 'The first of a few lines over the song is the title.',
    doubtful: true,
    credits: plain - 1,
  };
}
