import type { SectionKind } from '../../score/score.ts';

/** A section as a line names it. */
export interface Heading {
  /** `Verse 1`, `Refrain`. */
  readonly name: string;
  readonly kind: SectionKind;
  /** `Refrain (2x)`: 2. */
  readonly times: number;
  /** `Verse 2 (softly)`: what is said beside the name, and has no place in the song. */
  readonly note?: string;
}

/**
 * What people write over a section (common practice, in English, German, Dutch, French, Spanish, Portuguese, Italian,
 * Swedish, Danish and Norwegian, Finnish, Polish, Czech and Hungarian).
 */
const NAMES: readonly (readonly [words: string, kind: SectionKind])[] = [
  [
    'verse|vers|stanza|strophe|couplet|estrofa|estrofe|verso|strofa|strof|strofe|säkeistö|zwrotka|sloka|versszak',
    'verse',
  ],
  [
    'refrain|burden|kehrvers|kehrreim|refrein|estribillo|estribilho|refrão|ritornello|refräng|omkväde|refreng|omkvæd|omkved|kertosäe|refren|refrén',
    'refrain',
  ],
  ['chorus|chœur|coro|kör', 'chorus'],
  ['bridge|pont|brücke|brug|puente|ponte|stick|brygga|mostek', 'bridge'],
  ['tag|coda', 'tag'],
  [
    'intro|introduction|vorspiel|prelude|introducción|introdução|introduzione|voorspel|förspel|forspill|alkusoitto',
    'intro',
  ],
  [
    'ending|outro|schluss|nachspiel|postlude|fin|finale|naspel|efterspel|etterspill|loppu|zakończenie',
    'ending',
  ],
  ['vamp|soft loop', 'vamp'],
  [
    'pre[- ]?chorus|überleitung|interlude|instrumental|zwischenspiel|turnaround|descant|doxology|response|interludio|interlúdio|tussenspel|mellanspel|mellomspill|välisoitto',
    'other',
  ],
];
const NAME = NAMES.map(([words]) => words).join('|');
const BEFORE =
  '(?:(?:last|final|first|second|third|fourth|fifth|letzte|dernier|opening|closing) )?';
const AFTER = '(?: ?(?:\\d{1,2}|[ivx]{1,4}|one|two|three|four|five|six|seven|eight|nine|[a-d]))?';
const TIMES = '(?: *[-–(,]? *(?:[x×] ?([1-9])|([1-9]) ?[x×]|(twice)) *\\)?)?';
/** `Repeat chorus`, `Chorus again`: its name alone says so. */
const AGAIN = '(?: again)?';
/** How it is done, in brackets behind it: `Verse 2 (softly)`. */
const NOTE = '(?: *\\(([^()]{1,40})\\))?';
const KNOWN = new RegExp(
  `^(?:repeat )?(${BEFORE}(?:${NAME})${AFTER})${AGAIN}${TIMES}${NOTE} *[:.]?$`,
  'i',
);
/** What people shorten, alone on a line (common practice). */
const SHORT: readonly (readonly [RegExp, string])[] = [
  [/^v\.? ?(\d{1,2})[.:]?$/i, 'Verse'],
  [/^(\d{1,2})[.)]$/, 'Verse'],
  [/^ch\.? ?(\d{1,2})?[.:]?$/i, 'Chorus'],
  [/^ref\. ?(\d{1,2})?:?$/i, 'Refrain'],
  [/^br\.? ?(\d{1,2})?[.:]$/i, 'Bridge'],
];
const BEGINS = new RegExp(`^\\s*(${BEFORE}(?:${NAME})${AFTER})${TIMES} *:\\s*(?=\\S)`, 'i');
/** A stanza that begins with its number, as in hymnals: `1. Amazing grace`. */
const NUMBERED = /^\s*(\d{1,2})[.):]\s*(?=\p{L}|["“‘'’(])/u;
const REPEATED = /^[(]?(?:[x×]([1-9])|([1-9])[x×])[)]?$/i;

/** More often than this is a slip of a finger. */
const MOST_TIMES = 8;

function times(...found: readonly (string | undefined)[]): number {
  const [a, b, twice] = found;
  return Math.min(MOST_TIMES, twice ? 2 : Number(a ?? b ?? 1));
}

/** Capitals throughout are only loud: `REFRAIN` is `Refrain`. */
function calm(name: string): string {
  const text = name.trim().replace(/\s+/g, ' ');
  if (text !== text.toUpperCase()) return text.charAt(0).toUpperCase() + text.slice(1);
  return text.charAt(0) + text.slice(1).toLowerCase();
}

/** What a section is by its name. */
export function kindOf(name: string): SectionKind {
  for (const [words, kind] of NAMES) {
    if (new RegExp(`(?:^| )(?:${words})(?: |\\d|$)`, 'i').test(name)) return kind;
  }
  return 'other';
}

/** Brackets that stand round a whole line, and nothing else. */
function unbracketed(line: string): string {
  const inside = /^(?:\[([^[\]]+)\]|\(([^()]+)\)|<([^<>]+)>)[:.]?$/.exec(line);
  return (inside?.[1] ?? inside?.[2] ?? inside?.[3] ?? line).trim();
}

/** A line that is nothing but the name of a section, in brackets or without. */
export function headingOf(line: string): Heading | null {
  const text = unbracketed(line.trim());
  for (const [pattern, name] of SHORT) {
    const match = pattern.exec(text);
    if (!match) continue;
    const full = match[1] === undefined ? name : `${name} ${Number(match[1])}`;
    return { name: full, kind: kindOf(full), times: 1 };
  }
  const match = KNOWN.exec(text);
  const name = match?.[1];
  if (!match || name === undefined) return null;
  return {
    name: calm(name),
    kind: kindOf(name),
    times: times(match[2], match[3], match[4]),
    ...(match[5] !== undefined && { note: match[5] }),
  };
}

/** A line that ends in a colon and is no more than three words: perhaps a section with a name of its own. */
export function ownHeadingOf(line: string): Heading | null {
  const match = /^([\p{L}\d][^:|]{0,38}):$/u.exec(line.trim());
  const name = match?.[1]?.trim() ?? '';
  if (name === '' || name.split(/\s+/).length > 3) return null;
  return { name, kind: kindOf(name), times: 1 };
}

/** The name of a section, whatever it is, that a person says it is. */
export function saidHeading(line: string): Heading {
  const known = headingOf(line.replace(/^[\s[({<]+|[\s\])}>]+$/g, ''));
  if (known) return known;
  const name = line.replace(/^[\s[({<*#-]+|[\s\])}>:*#-]+$/g, '').replace(/\s+/g, ' ');
  return { name: name === '' ? 'Section' : name.slice(0, 60), kind: kindOf(name), times: 1 };
}

/** A section that begins inside a line, before its words or chords: `Intro: G D`, `2. Through many dangers`. */
export function prefixOf(line: string): { heading: Heading; length: number } | null {
  const named = BEGINS.exec(line);
  if (named?.[1] !== undefined) {
    const heading = {
      name: calm(named[1]),
      kind: kindOf(named[1]),
      times: times(named[2], named[3], named[4]),
    };
    return { heading, length: named[0].length };
  }
  const numbered = NUMBERED.exec(line);
  if (!numbered?.[1]) return null;
  const heading = { name: `Verse ${Number(numbered[1])}`, kind: 'verse' as const, times: 1 };
  return { heading, length: numbered[0].length };
}

/** `x2`, `2x`, `(2x)`: how often; null: it is something else. */
export function timesOf(token: string): number | null {
  const match = REPEATED.exec(token);
  return match ? times(match[1], match[2]) : null;
}
