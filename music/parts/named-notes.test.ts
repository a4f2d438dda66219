import { describe, expect, it } from 'vitest';
import { hymn } from '#test/support/hymn.ts';
import { makeEngraver } from '#test/support/verovio.ts';
import type { Key } from '../pitch/key.ts';
import { say as sayNote, type NamedNotes } from '../pitch/note-names.ts';
import { QUARTER } from '../score/score.ts';
import { engrave, type EngraveRequest } from '../sheet/engrave.ts';
import type { Engraver } from '../sheet/engraver.ts';
import { headingOf, of as sheetOf, request } from '../sheet/sheet.ts';
import { of as wordsSheet } from '../sheet/words-sheets.ts';
import type { Arrangement, Player } from './arrangement.ts';
import { of as difficultyOf } from './keys/part-difficulty.ts';
import type { Part } from './part.ts';
import { build } from './parts.ts';

const GRACE = hymn('Amazing_Grace-New_Britain.abc');
const B_FLAT: Arrangement = { key: { tonic: 'Bb', mode: 'major' }, tempo: null, density: 'bar' };
const VOICE = { low: 'Bb3', high: 'B4' };

function partOf(names: NamedNotes, player: Partial<Player>, key: Key = B_FLAT.key): Part {
  const ines: Player = { id: 'i', name: 'Ines', role: 'keys', level: 'beginner', reach: 12 };
  const built = build(GRACE, { ...B_FLAT, key }, { ...ines, ...player, names }, { roles: [] });
  if (!built.ok) throw new Error(JSON.stringify(built.problems));
  return built.value;
}

/** All that is said on a sheet, but for the sentence of key fit. */
const saidIn = (part: Part): string[] => [
  ...part.directions.flatMap(({ words }) => words),
  ...part.shapes.map(({ words }) => words),
  ...part.practice,
  ...part.cautions,
  ...(part.role === 'keys' ? difficultyOf(part).items.map(({ words }) => words) : []),
  ...(part.role.endsWith('voice') ? [] : [part.summary]),
  part.introduction,
  part.countIn,
];

const PLAYERS: readonly Partial<Player>[] = [
  { role: 'keys' },
  { role: 'keys', level: 'intermediate' },
  { role: 'keys', level: 'advanced' },
  { role: 'bass' },
  { role: 'bass', level: 'advanced' },
  { role: 'lead voice', voice: VOICE },
];
/** Notes as English writes them, letters that stand alone among them; `A` begins sentences too. */
const ENGLISH_SIGNS = /[A-G][♯♭]/;
const ENGLISH_LETTERS = /(?<![\p{L}\d])[B-G](?:m|7|\d)?(?![\p{L}’])/u;

describe('The sentences of a part', () => {
  it.each(PLAYERS)(
    'of %o have no English name of a note in them where it is called otherwise',
    (player) => {
      for (const key of [B_FLAT.key, { tonic: 'F#', mode: 'major' } as const]) {
        const english = saidIn(partOf('english', player, key)).join('\n');
        expect(english).toMatch(ENGLISH_SIGNS);
        for (const line of saidIn(partOf('german', player, key)))
          expect(line).not.toMatch(ENGLISH_SIGNS);
        for (const line of saidIn(partOf('solfege', player, key))) {
          expect(line).not.toMatch(ENGLISH_SIGNS);
          expect(line).not.toMatch(ENGLISH_LETTERS);
        }
      }
    },
  );

  it('keep the letters where chords are numbers, as fingers are numbers there already', () => {
    for (const player of PLAYERS)
      expect(saidIn(partOf('numbers', player))).toEqual(saidIn(partOf('english', player)));
  });

  it('say the same things of the same notes whatever they are called', () => {
    for (const player of PLAYERS) {
      const english = partOf('english', player);
      for (const names of ['german', 'solfege', 'numbers'] as const) {
        const { names: called, ...part } = partOf(names, player);
        expect(called).toBe(names);
        expect(part.score).toEqual(english.score);
        expect(part.shapes.map(({ notes, fingers }) => [notes, fingers])).toEqual(
          english.shapes.map(({ notes, fingers }) => [notes, fingers]),
        );
      }
    }
  });

  it('are those of a German teacher on the bass, with the strings', () => {
    const neck = (names: NamedNotes) => (partOf(names, { role: 'bass' }).neck ?? []).join('; ');
    expect(neck('german')).toMatch(/G string: .*B fret 3/);
    expect(neck('solfege')).toMatch(/Sol string: .*Si♭ fret 3/);
  });
});

describe('A sheet', async () => {
  const engraver = (await makeEngraver()) as unknown as Engraver;
  const page = { width: 1180, textScale: 1, verse: 1 } as const;
  /** Chord symbols as they are drawn, their signs and raised figures in one piece. */
  const chordsIn = (names: NamedNotes): string[] =>
    chordsOf(request(partOf(names, { role: 'keys' }), page));
  const chordsOf = (asked: EngraveRequest): string[] => {
    const { systems } = engrave(engraver, asked);
    return systems.flatMap(({ svg }) =>
      [...svg.matchAll(/<g class="harm"[^>]*>((?:<g [^>]*>[^]*?<\/g>|(?!<\/g>)[^])*)<\/g>/g)].map(
        ([, drawn = '']) =>
          drawn
            .replaceAll(/<use href="#E260"[^>]*>/g, '♭')
            .replaceAll(/<use href="#E262"[^>]*>/g, '♯')
            .replaceAll(/<[^>]+>/g, ''),
      ),
    );
  };

  it('has its chord symbols in the names that its player uses', () => {
    const english = chordsIn('english');
    expect(english).toContain('B♭');
    const become = (table: Readonly<Record<string, string>>) => english.map((each) => table[each]);
    const german = { 'B♭': 'B', 'E♭': 'Es', F: 'F', F7: 'F7', Gm: 'Gm' };
    const solfege = { 'B♭': 'Si♭', 'E♭': 'Mi♭', F: 'Fa', F7: 'Fa7', Gm: 'Solm' };
    const numbers = { 'B♭': '1', 'E♭': '4', F: '5', F7: '57', Gm: '6m' };
    expect(chordsIn('german')).toEqual(become(german));
    expect(chordsIn('solfege')).toEqual(become(solfege));
    expect(chordsIn('numbers')).toEqual(become(numbers));
  });

  it('says where there is no chord, whatever notes are called', () => {
    const score = { ...GRACE, chords: [{ at: 0, length: QUARTER, chord: null }] };
    for (const names of ['english', 'german', 'numbers'] as const)
      expect(chordsOf({ score, page, names })).toEqual(['N.C.']);
  });

  it('says once what its notes are called, where that is not English', () => {
    const called = (names: NamedNotes) => headingOf(partOf(names, {}), { name: 'Ines' }).called;
    expect(called('english')).toBeUndefined();
    expect(called('german')).toBe('notes are called as in German: H is B natural, B is B flat; B♭ major is on B'); // prettier-ignore
    expect(called('solfege')).toBe('notes are called do re mi, and do is C; B♭ major is on Si♭');
    const inC = partOf('german', {}, { tonic: 'C', mode: 'major' });
    expect(headingOf(inC, { name: 'Ines' }).called).toBe('notes are called as in German: H is B natural, B is B flat'); // prettier-ignore
    expect(called('numbers')).toBe(
      'chords are numbers in the key: 1 is B♭; sentences keep the letters',
    );
    expect(headingOf(partOf('german', {}), { name: 'Ines' }).key).toBe('B♭ major');
  });

  it('has the names under its pictures of hands', () => {
    const part = partOf('numbers', { role: 'keys' });
    const engraved = engrave(engraver, request(part, page));
    const sheet = sheetOf(part, { name: 'Ines' }, page, engraved);
    expect(sheet.systems[0]?.strip.map(({ chord }) => chord)).toContain('1');
  });

  it('of a bass has its line in numbers where chords are numbers', () => {
    const remarksOf = (names: NamedNotes) => {
      const part = partOf(names, { role: 'bass' });
      return sheetOf(part, { name: 'Noor' }, page, engrave(engraver, request(part, page))).remarks;
    };
    expect(remarksOf('english')).toEqual([]);
    const [, verse = ''] = remarksOf('numbers');
    expect(verse).toMatch(/^Verse in numbers: – \| 1 \| /);
    const bass = partOf('numbers', { role: 'bass' }).score.voices.find(({ id }) => id === 'bass');
    const played = bass?.notes.flatMap(({ pitches }) =>
      pitches.map((each) => sayNote(each, 'numbers', B_FLAT.key)),
    );
    expect(new Set(verse.match(/[♯♭]?\d/g))).toEqual(new Set(played));
  });

  it('of words has them over the syllables, numbers in the key as it is read', () => {
    const player = { name: 'Ines', role: 'guitar', names: 'numbers' } as const;
    const sheet = wordsSheet(GRACE, B_FLAT, player);
    if (!sheet.ok) throw new Error('no words');
    const chords = sheet.value.passes.flatMap(({ lines }) =>
      lines.flatMap(({ pieces }) => pieces.flatMap(({ chord }) => (chord ? [chord.name] : []))),
    );
    expect(new Set(chords.map((each) => each.charAt(0)))).toEqual(new Set(['1', '4', '5', '6']));
    expect(sheet.value.heading.called).toBe(
      'chords are numbers in the key: 1 is B♭; sentences keep the letters',
    );
  });
});
