import { write as writeChord } from '../../pitch/chord-symbol.ts';
import { writeKey } from '../../pitch/key.ts';
import type { KeyAt, Score } from '../../score/score.ts';
import { inForce } from '../../score/time.ts';
import { sungPasses, type SungPass, type SungPiece } from '../../score/sung-lines.ts';
import { columnsOf } from './columns.ts';
import { writeTempo } from './facts.ts';
import { headingOf } from './headings.ts';

/** A score as text; see `WordsAndChords.write`. */
export function writeSong(score: Score): string {
  const blocks = [head(score)];
  const printed = new Map<string, string>();
  let key = score.keys[0];
  for (const pass of sungPasses(score)) {
    const heading = headingText(pass.name);
    const at = pass.lines[0]?.[0]?.at;
    const next = at === undefined || pass.isText ? key : inForce(score.keys, at);
    const lines = linesOf(score, pass, next);
    if (lines.length === 0) continue;
    const changed = next && key && isNew(next, key);
    const text = lines.join('\n');
    const isAgain = printed.get(heading.toLowerCase()) === text;
    printed.set(heading.toLowerCase(), text);
    const words = isAgain && !changed ? [heading] : [heading, text];
    blocks.push(...(changed ? [`Key: ${writeKey(next.key)}`] : []), words.join('\n'));
    key = at === undefined || pass.isText ? key : lastKey(score, pass);
  }
  return `${blocks.join('\n\n')}\n`;
}

/** Whether a key must be said: it is another one, or the first that is certain. */
function isNew(next: KeyAt, key: KeyAt): boolean {
  return next !== key && (writeKey(next.key) !== writeKey(key.key) || (next.sure && !key.sure));
}

function lastKey(score: Score, { lines }: SungPass): KeyAt | undefined {
  const at = lines.at(-1)?.at(-1)?.at;
  return at === undefined ? score.keys[0] : inForce(score.keys, at);
}

const oneLine = (text: string): string => text.replace(/\s+/g, ' ').trim();

/** Title, key, time, tempo and what else the song says of itself, a line each. */
function head({ facts, keys, meters, tempo, untimed }: Score): string {
  const meter = meters[0]?.meter;
  const time = untimed ? undefined : meter?.beats && `${meter.beats}/${meter.unit}`;
  const key = keys[0];
  const lines: readonly (readonly [label: string, text: string | null | undefined])[] = [
    ['Title', facts.title],
    ...facts.subtitles.map((text) => ['Subtitle', text] as const),
    ['Tune', facts.tune],
    ['Key', key?.sure ? writeKey(key.key) : null],
    ['Time', time || null],
    ['Tempo', tempo && writeTempo(tempo)],
    ...facts.credits.map((text) => {
      const labelled = /^(\p{L}[\p{L} ]{0,22}): *(.+)$/u.exec(oneLine(text));
      return labelled ? ([labelled[1] ?? '', labelled[2]] as const) : (['Credits', text] as const);
    }),
    ['Copyright', facts.rights],
    // Beside a song with notes a source says much that no page of words needs.
    ...facts.other
      .filter(([label]) => untimed || NOTED.test(label))
      .map(([label, text]) => [capital(label), text] as const),
  ];
  return lines
    .filter(([, text]) => text && oneLine(text) !== '')
    .map(([label, text]) => `${label}: ${oneLine(text ?? '')}`.slice(0, 400))
    .join('\n');
}

/** What the team knows of a song stands over its words, whatever it comes from. */
const NOTED =
  /^(scripture|themes|language|first line|hymn meter|credit line|(words|translation|tune|arrangement) rights( (holder|licence|reason|where))?)$/;

const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);

/** A name that is not known for a section's has a colon after it, which makes it one. */
function headingText(name: string): string {
  const text = oneLine(name).replace(/[:|]/g, ' ').trim();
  return headingOf(text) ? text : `${text === '' ? 'Section' : text}:`;
}

function linesOf(score: Score, pass: SungPass, start: KeyAt | undefined): string[] {
  const lines: string[] = [];
  let key = start;
  for (const line of pass.lines) {
    const first = line[0];
    const next = first && !pass.isText ? inForce(score.keys, first.at) : key;
    if (next && key && isNew(next, key)) {
      lines.push(`Key: ${writeKey(next.key)}`);
    }
    key = next;
    const isSung = line.some(({ text }) => oneLine(text) !== '');
    const before = lines.at(-1);
    const [chords, words] = isSung ? over(score, line) : [inBars(score, line), ''];
    // Words without chords right under chords would be sung to them.
    if (chords === '' && before !== undefined && before.startsWith('|')) lines.push('');
    lines.push(...[chords, words].filter((each) => each !== ''));
  }
  return lines;
}

const nameOf = (score: Score, piece: SungPiece): string => {
  const chord = piece.chord === null ? undefined : score.chords[piece.chord];
  return chord === undefined ? '' : chord.chord ? writeChord(chord.chord) : 'N.C.';
};

/** `| G  D | C |` */
function inBars(score: Score, line: readonly SungPiece[]): string {
  let text = '';
  let bar: number | null = null;
  for (const piece of line) {
    text += piece.bar === bar ? '  ' : bar === null ? '| ' : ' | ';
    text += nameOf(score, piece);
    bar = piece.bar;
  }
  return `${text} |`;
}

/** Chords and words of a line, the chord over the first letter that is sung to it. */
function over(score: Score, line: readonly SungPiece[]): [chords: string, words: string] {
  let chords = '';
  let words = '';
  let inWord = false;
  let afterHeld = false;
  for (const piece of line) {
    const name = nameOf(score, piece);
    const text = oneLine(piece.text).replaceAll('_', '');
    if (text === '' && name === '') continue;
    const isHeld = text === '';
    const gap = words === '' || inWord ? 0 : 1;
    let column = columnsOf(words) + gap;
    // After a chord in a gap a word must not begin right beside it: it would be that word's.
    if (afterHeld)
      column = Math.max(column, columnsOf(chords.trimEnd()) + 1, lastStart(chords) + 2);
    if (name !== '') column = Math.max(column, chords === '' ? 0 : columnsOf(chords) + 1);
    if (isHeld && !inWord && words !== '') column = Math.max(column, columnsOf(words) + 1);
    if (inWord && !isHeld && (column > columnsOf(words) || words.endsWith('_'))) {
      column = Math.max(column, columnsOf(words.replace(/_+$/, '')) + DRAWN);
    }
    // A word that ends with a hyphen would go on after the gap.
    if (!inWord && (isHeld || column > columnsOf(words) + 1) && HYPHENED.test(words)) words += '_';
    words = pad(words, column, inWord ? '_' : ' ');
    if (name !== '') chords = pad(chords, column, ' ') + name;
    if (isHeld) {
      if (inWord) words += '_';
      afterHeld = !inWord;
    } else {
      words += text;
      inWord = piece.goesOn;
      afterHeld = false;
    }
  }
  return [chords, drawnApart(words.trimEnd())];
}

const HYPHENED = /[\p{L}\p{M}'’]-$/u;
/** Columns of a hyphen and the two spaces by which it is told from a dash. */
const DRAWN = 3;

/** `re___lieved` as people type it, `re-  lieved`; where that would read as something else it stays. */
function drawnApart(words: string): string {
  return words.replace(
    /(?<=\p{L}[\p{M}'’]*)(_{3,})(?=\p{Ll})/gu,
    (_, held: string) => `-${' '.repeat(held.length - 1)}`,
  );
}

/** Column at which the last chord begins. */
function lastStart(chords: string): number {
  return columnsOf(chords.slice(0, chords.lastIndexOf(' ') + 1));
}

function pad(text: string, column: number, filler: string): string {
  return text + filler.repeat(Math.max(0, column - columnsOf(text)));
}
