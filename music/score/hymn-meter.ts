import { bestEnds, syllablesOf } from './hymn-meter/lines.ts';
import { nameOf } from './hymn-meter/names.ts';
import { placesIn, versesIn, type Place, type SungVerse } from './hymn-meter/places.ts';
import { counted, listed } from './number-words.ts';
import type { Score, Section } from './score.ts';

export { same } from './hymn-meter/written.ts';

export interface FoundMeter {
  /** Syllables of each line of a verse, as most verses have them: `[8, 6, 8, 6]`. */
  readonly lines: readonly number[];
  /** … of the refrain, where it is a section of its own; else empty. */
  readonly refrain: readonly number[];
  /** `8.6.8.6`, `7.7.7.7 with alleluias`; null: the words have no lines that repeat from verse to verse, or there are none. */
  readonly meter: string | null;
  /** `CM`, `LMD`, `8.7.8.7 D`, `LM with refrain`; `Irregular`; null: it has no name. */
  readonly name: string | null;
  /** One sentence with verse and line. */
  readonly reason: string;
}

/** Of all lines of all verses, so many must have the syllables that most verses have there, or the meter is irregular. */
const REGULAR = 0.75;

/**
 * The hymn meter, from the syllables under the notes of the tune: a syllable counts once, however many notes it is sung
 * to. Where lines end is not written there: it is found from all verses together (`hymn-meter/lines.ts`, an exact
 * optimum). Alleluias that close the verse or come after more than one line are named and not counted, as hymnals do. Pure.
 */
export function of(score: Score): FoundMeter {
  const none = { lines: [], refrain: [], meter: null, name: null };
  if (score.untimed) {
    return { ...none, reason: 'The words were typed without notes, so their syllables are not marked.' }; // prettier-ignore
  }
  const section = sungSection(score, (kind) => kind !== 'refrain' && kind !== 'chorus');
  if (!section) return { ...none, reason: 'No words stand under the notes of a verse.' };
  const poem = poemIn(score, section);
  const refrain = sungSection(score, (kind) => kind === 'refrain' || kind === 'chorus');
  return {
    ...described(poem, refrain !== null),
    refrain: refrain ? poemIn(score, refrain).lines.map(({ syllables }) => syllables) : [],
  };
}

/** The first section of a kind with syllables under its notes; a verse before any other. */
function sungSection(score: Score, isOne: (kind: Section['kind']) => boolean): Section | null {
  const sung = score.sections.filter(
    (section) => isOne(section.kind) && versesIn(score, section).length > 0,
  );
  return sung.find(({ kind }) => kind === 'verse') ?? sung[0] ?? null;
}

interface Line {
  /** As most verses have them. */
  readonly syllables: number;
  /** For each verse. */
  readonly counts: readonly number[];
  /** All verses cry alleluia here, and nothing else. */
  readonly alleluia: boolean;
}

interface Poem {
  readonly verses: readonly SungVerse[];
  readonly lines: readonly Line[];
}

function poemIn(score: Score, section: Section): Poem {
  const verses = versesIn(score, section);
  const places = placesIn(verses, section.to);
  const ends = bestEnds(places).ends;
  const lines = ends.map((end, line): Line => {
    const [from, to] = [places[ends[line - 1] ?? 0] as Place, places[end] as Place];
    return {
      syllables: syllablesOf(from, to),
      counts: to.before.map((count, verse) => count - (from.before[verse] ?? 0)),
      alleluia: verses.every((verse) => isAlleluia(wordsOf(verse, from, to))),
    };
  });
  return { verses, lines };
}

function wordsOf({ syllables }: SungVerse, from: Place, to: Place): string {
  const inside = syllables.filter(({ at }) => at >= from.at && at < to.at);
  return inside.map(({ text }) => text).join('');
}

function isAlleluia(words: string): boolean {
  const letters = words.toLowerCase().replace(/[^\p{L}]/gu, '');
  return /^(h?all?elu[ij]ah?)+$/u.test(letters);
}

function described({ verses, lines }: Poem, hasRefrain: boolean): Omit<FoundMeter, 'refrain'> {
  const cries = lines.flatMap(({ alleluia }, place) => (alleluia ? [place] : []));
  const areApart = cries.length > 1 || cries.at(-1) === lines.length - 1;
  const poetic = areApart ? lines.filter(({ alleluia }) => !alleluia) : lines;
  const syllables = poetic.map((line) => line.syllables);
  const suffix = [
    ...(areApart && cries.length > 0 ? [cries.length > 1 ? 'alleluias' : 'alleluia'] : []),
    ...(hasRefrain ? ['refrain'] : []),
  ];
  const added = suffix.length > 0 ? ` with ${listed(suffix)}` : '';
  const cells = poetic.flatMap((line) => line.counts.map((count) => count === line.syllables));
  const regular = cells.filter(Boolean).length >= REGULAR * cells.length;
  const name = nameOf(syllables);
  return {
    lines: syllables,
    meter: regular ? syllables.join('.') + added : null,
    name: !regular ? 'Irregular' : name && name + added,
    reason: sayReason(verses, poetic, regular),
  };
}

/** `Lines of 8, 6, 8 and 6 syllables in verses 1 to 5; verse 2 has 7 in line 1.` */
function sayReason(verses: readonly SungVerse[], lines: readonly Line[], regular: boolean): string {
  const others = verses.flatMap(({ number }, verse) =>
    lines.flatMap(({ counts, syllables }, line) =>
      counts[verse] === syllables
        ? []
        : [`verse ${number} has ${counts[verse] ?? 0} in line ${line + 1}`],
    ),
  );
  const figures = listed(lines.map(({ syllables }) => String(syllables)));
  const numbers = verses.map(({ number }) => String(number));
  const whose = `${numbers.length === 1 ? 'verse' : 'verses'} ${listed(numbers)}`;
  const lead = regular
    ? `Lines of ${figures} syllables in ${whose}`
    : `The lines of ${whose} differ: most often ${figures} syllables`;
  const told = others.slice(0, 3);
  const more = others.length - told.length;
  const rest = more > 0 ? [counted(more, 'other line differs', 'other lines differ')] : [];
  return `${[lead, ...told, ...rest].join('; ')}.`;
}
