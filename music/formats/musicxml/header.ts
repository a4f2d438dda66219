import { nameWithYears, personOf, type Layer } from '../../score/credits.ts';
import type { Score, SongFacts } from '../../score/score.ts';
import { OWN_FIELD } from './own-field.ts';
import { el, text, type Xml } from './xml.ts';

/** `Words: John Newton, 1779.` says who by its first word (common practice of hymnals). */
const CREATORS: readonly (readonly [prefix: RegExp, type: string])[] = [
  [/^(words|text|lyrics)( and music)?\s*:/i, 'lyricist'],
  [/^(music|tune|melody)( and words)?\s*:/i, 'composer'],
  [/^(setting|arrangement|arranged|harmony)\s*:/i, 'arranger'],
];

/** `creator` types in common use (MusicXML 4.0, “The creator element”). */
const TYPES: Readonly<Record<Layer, string>> = {
  words: 'lyricist',
  translation: 'translator',
  tune: 'composer',
  arrangement: 'arranger',
};

/** Whoever a credit names plainly stands there by name; any other credit whole. */
function creators(facts: SongFacts): Xml[] {
  return facts.credits.map((credit) => {
    const person = personOf(credit);
    if (person) return text('creator', nameWithYears(person), { type: TYPES[person.layer] });
    const found = CREATORS.find(([prefix]) => prefix.test(credit));
    return text('creator', credit, { type: found?.[1] ?? 'credit' });
  });
}

/** Facts that MusicXML has no element for are kept by name; nothing is lost. */
function miscellaneous(score: Score, own: string | null): Xml | false {
  const { facts } = score;
  const fields: (readonly [string, string])[] = [
    ...facts.subtitles.map((subtitle) => ['subtitle', subtitle] as const),
    ...(facts.tune ? [['tune', facts.tune] as const] : []),
    ...(facts.hymnMeter ? [['hymn-meter', facts.hymnMeter] as const] : []),
    ...facts.other,
    ...score.verses.flatMap((verse) =>
      verse.lines && verse.lines.length > 0
        ? [[`verse ${verse.number}`, verse.lines.join('\n')] as const]
        : [],
    ),
    ...(own === null ? [] : [[OWN_FIELD, own] as const]),
  ];
  return (
    fields.length > 0 &&
    el(
      'miscellaneous',
      {},
      fields.map(([name, value]) => text('miscellaneous-field', value, { name })),
    )
  );
}

/** A reader beams by itself where nothing says how (MusicXML 4.0, `supports`). Engraving is told nothing new. */
function beams({ voices }: Score, own: string | null): 'yes' | 'no' {
  return own === null || voices.some(({ notes }) => notes.some(({ beam }) => beam)) ? 'yes' : 'no';
}

/**
 * Title, who wrote what, whose rights, where it comes from. No date: the same score is the same file.
 * @param own what else the score has, for our own reader
 */
export function header(score: Score, own: string | null): Xml[] {
  const { facts } = score;
  return [
    el('work', {}, text('work-title', facts.title)),
    el(
      'identification',
      {},
      creators(facts),
      facts.rights !== null && text('rights', facts.rights),
      el(
        'encoding',
        {},
        text('software', 'Partbook'),
        el('supports', { element: 'accidental', type: 'yes' }),
        el('supports', { element: 'beam', type: beams(score, own) }),
        el('supports', { element: 'stem', type: 'no' }),
      ),
      facts.source !== null && text('source', facts.source),
      miscellaneous(score, own),
    ),
  ];
}

/**
 * The title and under it whose part it is, as words of the first page (MusicXML 4.0, `credit-type`: `title`, `part name`).
 * Where a page has words of its own, programs show no others.
 */
export function credits({ facts }: Score, rubric: string | undefined): Xml[] {
  if (rubric === undefined) return [];
  const words = [
    ['title', facts.title, 'center'],
    ['part name', rubric, 'left'],
    ...facts.credits.map((each) => ['', each, 'right'] as const),
    ...(facts.rights ? [['rights', facts.rights, 'center'] as const] : []),
  ] as const;
  return words
    .filter(([, said]) => said.trim() !== '')
    .map(([type, said, justify]) => {
      const valign = type === 'rights' ? 'bottom' : 'top';
      return el(
        'credit',
        { page: 1 },
        type !== '' && text('credit-type', type),
        text('credit-words', said, { justify, valign }),
      );
    });
}
