import type { ChordOver, WordsLine, WordsPass, WordsSheet } from '#music';
import type { Page, PersonPages } from '#server/contract/pages.ts';

/**
 * `A_<G>maz_<C>ing`: `<chord>` before the letter it stands over, `<(chord)>` one that goes on from the line before, `_`
 * where a word goes on in the next piece, `=` where the one before is held, `|<chord>` after a bar line. A notation of
 * this test alone, so that the lines below can be read.
 */
function line(text: string, sounds: (name: string) => string | null): WordsLine {
  const pieces = text.split(/(?=\|<)|(?<!\|)(?=<)/).map((part) => {
    const [, typed, words = ''] = /^\|?(?:<([^>]*)>)?(.*)$/.exec(part) ?? [];
    const name = typed?.replace(/[()]/g, '');
    const again = name === typed ? {} : ({ again: true } as const);
    const chord: ChordOver | null =
      name === undefined ? null : { name, sounds: sounds(name), ...again };
    return {
      chord,
      text: words.replace(/_$|^=$/, ''),
      goesOn: words.endsWith('_'),
      ...(words === '=' && { held: true as const }),
      ...(part.startsWith('|') && { bar: true as const, beats: 2 }),
    };
  });
  return { pieces };
}

/** John Newton's words of 1779 (public domain) under more and wider chords than anybody would play. */
const VERSE = [
  'A_<G>maz_<G7/B>ing grace, how <C>sweet the <G>sound',
  '<(G)>That <F♯m7♭5>saved a <B7>wretch like <Em>me! <N.C.>I',
  '<Gmaj7/F♯>once was <E♭dim7>lost, but <C>now am <G>found,',
  'Was <B♭maj7>blind, <A♭7>but <E♭maj7/B♭>now <D7>I <G>see. <C>',
];
const BRIDGE = [
  '<Am7>In <D7>a <Gsus4>A_<G>men, <C>a_<D7>men, <G>hal_<Em>le_<C>lu_<D>jah.',
  'Crown <Em>Him <G>Lord<B♭maj7>=<G>all',
];

function passes(sounds: (name: string) => string | null): WordsPass[] {
  const lines = (texts: readonly string[]) => texts.map((text) => line(text, sounds));
  return [
    { name: 'Introduction', directions: ['held'], lines: lines(['<G><C>|<G/D><D7>']) },
    { name: 'Verse 1', directions: ['held; Ada leads'], lines: lines(VERSE) },
    { name: 'Refrain', directions: ['every beat; all sing'], lines: lines(BRIDGE) },
    {
      name: 'Verse 2',
      directions: [],
      lines: lines(VERSE.map((text) => text.replace(/_?<[^>]*>/g, ''))),
    },
    { name: 'Refrain', directions: ['every beat'], lines: [] },
  ];
}

/** What sounds a whole tone above each of them, with a capo at the second fret. */
const UP: Readonly<Record<string, string>> = {
  'E♭': 'F',
  'A♭': 'B♭',
  'B♭': 'C',
  'F♯': 'G♯',
  A: 'B',
  B: 'C♯',
  C: 'D',
  D: 'E',
  E: 'F♯',
  G: 'A',
};
const capo2 = (name: string): string | null =>
  name === 'N.C.' ? null : name.replace(/[A-G][♭♯]?/g, (note) => UP[note] ?? note);

export function wordsSheet(title: string, capo: boolean): WordsSheet {
  return {
    heading: {
      title,
      rubric: 'guitar, first rung, for Joel',
      key: 'G major',
      meter: '3/4',
      tempo: { note: 'quarter', dots: 0, perMinute: 76 },
      countIn: 'count 1 2 3 | 1 2 (sing)',
      ...(capo && {
        played: {
          words: 'capo 2: shapes of G, it sounds in A',
          reminder: 'Take the capo off after this song.',
        },
      }),
    },
    order: 'introduction once, then verse 1, refrain, verse 2, refrain',
    passes: passes(capo ? capo2 : () => null),
    remarks: [],
    cautions: [],
    credits: ['Words: John Newton, 1779', 'Public domain'],
  };
}

/** What the server answers for a guitarist of two songs, the second without a capo. */
export function guitarPages(): PersonPages {
  const place = { role: 'guitar' as const };
  const G = { tonic: 'G', mode: 'major' as const };
  const A = { tonic: 'A', mode: 'major' as const };
  const first = wordsSheet('Amazing grace', true);
  const pages: Page[] = [
    {
      kind: 'words',
      ...place,
      item: 'one',
      title: 'Amazing grace',
      played: {
        by: 'capo',
        plays: G,
        sounds: A,
        amount: 2,
        words: first.heading.played?.words ?? '',
        reminder: first.heading.played?.reminder ?? '',
      },
      sheet: first,
    },
    {
      kind: 'words',
      ...place,
      item: 'two',
      title: 'Amazing grace again',
      played: null,
      sheet: wordsSheet('Amazing grace again', false),
    },
  ];
  return {
    service: {
      title: 'Morning service',
      date: '2026-11-29',
      time: '10:30',
      zone: 'Europe/Berlin',
      place: 'St Anne’s, Saltmarsh',
    },
    person: { id: 'joel', name: 'Joel', roles: ['guitar'] },
    reads: { one: ['A', 'G', 'E'], two: ['G', 'E'] },
    pages,
  };
}
