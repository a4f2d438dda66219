import { describe, expect, it } from 'vitest';
import { hymn } from '#test/support/hymn.ts';
import { HYMN_FILES } from '#test/support/hymns.ts';
import { songOf } from '#test/support/small-abc.ts';
import type { Score } from '../score/score.ts';
import { endOf, melodyOf } from '../score/time.ts';
import type { Texture } from './arrangement.ts';
import { introductionOf, withIntroduction } from './introduction.ts';
import { writtenOut } from './written-out.ts';

const withTextures = (score: Score, textures: readonly Texture[]): Score => ({
  ...score,
  form: score.form.map((pass, i) => ({
    ...pass,
    texture: textures[i] ?? textures.at(-1) ?? 'held',
  })),
});
const introduced = (score: Score) => withIntroduction(score, introductionOf(score));
const GRACE = 'Amazing_Grace-New_Britain.abc';

describe('a section whose passes are played in different ways', () => {
  it('is written out once for each way, in its place, with the words of its own passes', () => {
    const song = withTextures(hymn(GRACE), ['held', 'every beat', 'held', 'every beat']);
    const { score, textures, others } = writtenOut(introduced(song));
    expect(score.sections.map(({ name }) => name)).toEqual([
      'Introduction',
      'Verses 1 and 3',
      'Verses 2, 4, 5, 6 and 7',
    ]);
    expect([...textures.values()]).toEqual(['held', 'held', 'every beat']);
    expect(others.size).toBe(0);
    // Each pass goes to its own copy.
    expect(score.form.map(({ section }) => section)).toEqual([
      'introduction',
      ...['held', 'every beat', 'held', 'every beat', 'every beat', 'every beat', 'every beat'].map(
        (texture) =>
          score.sections.find(({ id }) => textures.get(id) === texture && id !== 'introduction')
            ?.id,
      ),
    ]);
    const first = (section: number) => {
      const { from = 0, to = 0 } = score.sections[section] ?? {};
      const notes = melodyOf(score).notes.filter(({ at }) => at >= from && at < to);
      return notes.find(({ syllables }) => syllables?.[0])?.syllables?.map((each) => each?.text);
    };
    // Verse 1 asked for, the copy for the others prints verse 2.
    expect(first(1)?.[0]).toBe('A');
    expect(first(2)?.[0]).toBe(first(2)?.[1]);
    expect(first(2)?.[0]).not.toBe('A');
  });

  it.each(HYMN_FILES)('takes nothing from the time and the bars of %s', (file) => {
    const song = introduced(withTextures(hymn(file), ['held', 'leading', 'every beat']));
    const { score, others, textures } = writtenOut(song);
    const extra = score.sections
      .filter(({ copyOf }) => copyOf !== undefined)
      .filter((each, i, all) => all.findIndex(({ copyOf }) => copyOf === each.copyOf) !== i);
    const more = extra.reduce((sum, { from, to }) => sum + to - from, 0);
    expect(endOf(score)).toBe(endOf(song) + more);
    let at = 0;
    for (const bar of score.bars) {
      expect(bar.at).toBe(at);
      at += bar.length;
    }
    for (const { notes } of score.voices) {
      expect(notes.reduce((sum, { length }) => sum + length, 0)).toBe(endOf(score));
    }
    at = 0;
    for (const section of score.sections) {
      expect(section.from).toBe(at);
      at = section.to;
      expect(textures.has(section.id)).toBe(true);
    }
    // Every pass is either in a copy of its way, or named among those that are played otherwise.
    for (const pass of score.form) {
      const written = textures.get(pass.section);
      const own = (pass as { texture?: Texture }).texture ?? 'held';
      const said = (others.get(pass.section) ?? []).some(({ texture }) => texture === own);
      if (pass.section !== 'introduction') expect(written === own || said).toBe(true);
    }
  });

  it('stays once where it has endings for its passes: the others are said', () => {
    const words = ['a b c d a b c d a b c d', 'e f g h e f g h e f g h'];
    const song = withTextures(songOf('"C"CDEF|1CDEF:|2CCCC|]', words), ['held', 'every beat']);
    const { score, textures, others } = writtenOut(song);
    expect(score).toBe(song);
    const [section] = score.sections;
    expect(textures.get(section?.id ?? '')).toBe('held');
    expect(others.get(section?.id ?? '')?.map(({ texture }) => texture)).toEqual(['every beat']);
  });

  it('is left alone where all are played alike', () => {
    const song = withTextures(hymn(GRACE), ['leading']);
    expect(writtenOut(song).score).toBe(song);
  });
});
