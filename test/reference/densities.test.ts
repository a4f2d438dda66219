import { describe, expect, it } from 'vitest';
import { ChordSymbol, Form, Parts, Reduction, Time, WordsSheets, type ChordAt, type Density } from '#music'; // prettier-ignore
import { hymn } from '#test/support/hymn.ts';

const FILES = [
  'Our_God_Our_Help_In_Ages_Past-St_Anne.abc',
  'Hosanna_Loud_Hosanna-Ellacombe.abc',
  'The_Churchs_One_Foundation-Aurelia.abc',
];
const DENSITIES = ['beat', 'half bar', 'bar', 'alone'] as const satisfies readonly Density[];
const PLAYER = { id: 'ines', name: 'Ines', level: 'beginner', reach: 12 } as const;

/** Chords over their roots, from bar 1 on, each change once: `C F C`. */
function changesIn(chords: readonly ChordAt[], from: number): string[] {
  return chords
    .filter(({ at, length }) => at + length > from)
    .map(({ chord }) => (chord ? ChordSymbol.say({ ...chord, bass: null }) : 'N.C.'))
    .filter((name, place, all) => name !== all[place - 1]);
}

describe.each(DENSITIES)('An arrangement with the density %s', (density) => {
  it.each(FILES)('has the same chords at the keys, in the bass and over the words: %s', (file) => {
    const song = hymn(file);
    const key = Time.keyAt(song, 0).key;
    const form = [{ section: song.sections[0]?.id ?? '', verse: 1 }];
    const arrangement = { key, tempo: null, density, form };
    const first = song.bars.find(({ number }) => number === 1)?.at ?? 0;
    const read = changesIn(Reduction.chords(song, { density }).chords, first);

    const partOf = (role: 'keys' | 'bass') => {
      const built = Parts.build(song, arrangement, { ...PLAYER, role }, { roles: [] });
      if (!built.ok) throw new Error(built.problems[0]?.message);
      return built.value.score;
    };
    for (const role of ['keys', 'bass'] as const) {
      const score = partOf(role);
      const bar = score.bars.find(({ number, copyOf }) => number === 1 && copyOf === undefined);
      expect(changesIn(score.chords, bar?.at ?? 0), role).toEqual(read);
    }
    const sheet = WordsSheets.of(song, arrangement, { name: 'Ines', role: 'guitar' });
    if (!sheet.ok) throw new Error(sheet.problems[0]?.message);
    const name = Form.passesOf({ ...song, form })[0]?.name;
    const over = sheet.value.passes
      .find((pass) => pass.name === name)
      ?.lines.flatMap(({ pieces }) => pieces.flatMap(({ chord }) => chord?.name ?? []));
    expect(over?.filter((each, place) => each !== over[place - 1])).toEqual(read);
  });
});
