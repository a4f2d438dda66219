import { describe, expect, it } from 'vitest';
import { hymn } from '#test/support/hymn.ts';
import { HYMN_FILES } from '#test/support/hymns.ts';
import { songOf } from '#test/support/small-abc.ts';
import type { Score } from '../../score/score.ts';
import { endOf, melodyOf } from '../../score/time.ts';
import type { Ending, Texture } from '../arrangement.ts';
import { introductionOf, withIntroduction } from './introduction.ts';
import { textureIn, writtenOut } from './written-out.ts';

const withTextures = (score: Score, textures: readonly Texture[]): Score => ({
  ...score,
  form: score.form.map((pass, i) => ({
    ...pass,
    texture: textures[i] ?? textures.at(-1) ?? 'held',
  })),
});
/** The last pass ends like that. */
const withEnding = (score: Score, ending: Ending): Score => ({
  ...score,
  form: score.form.map((pass, i, all) => (i === all.length - 1 ? { ...pass, ending } : pass)),
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
      const copies = score.sections.filter(({ copyOf }) => copyOf !== undefined);
      expect(copies.filter(({ copyOf }) => copyOf === copies[0]?.copyOf).length).toBeLessThan(3);
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

  it('is written out twice at most: as first played, and as fullest; the rest is said where it is nearest', () => {
    const five = ['held', 'answered', 'leading', 'every beat', 'broken'] as const;
    const { score, textures, others } = writtenOut(introduced(withTextures(hymn(GRACE), five)));
    expect(score.sections.map(({ name }) => name)).toEqual([
      'Introduction',
      'Verses 1 to 3',
      'Verses 4 to 7',
    ]);
    const [, first = '', second = ''] = score.sections.map(({ id }) => id);
    expect([textures.get(first), textures.get(second)]).toEqual(['held', 'broken']);
    const said = (id: string) =>
      others.get(id)?.map(({ texture, passes }) => [texture, ...passes.map(({ verse }) => verse)]);
    // Of leading (the third of six) held is two steps away, broken three.
    expect(said(first)).toEqual([
      ['answered', 2],
      ['leading', 3],
    ]);
    expect(said(second)).toEqual([['every beat', 4]]);
    // Every verse has its words where it is read.
    const sungIn = score.form.filter(({ section }) => section === second).map(({ verse }) => verse);
    expect(sungIn).toEqual([4, 5, 6, 7]);
  });

  it('before the fullest comes the last that has an ending; what is read there goes on without it', () => {
    const song = withEnding(
      withTextures(hymn(GRACE), [
        'held',
        'broken',
        'broken',
        'broken',
        'broken',
        'broken',
        'every beat',
      ]),
      'broad',
    );
    const { score, textures, endings, others } = writtenOut(introduced(song));
    const [, , second] = score.sections;
    const id = second?.id ?? '';
    expect(textures.get(id)).toBe('every beat');
    const ending = endings.get(id);
    // Its last phrase, four bars of three and a short one: “Was blind, but now I see.”
    expect(ending).toMatchObject({ ending: 'broad', texture: 'every beat', to: second?.to });
    expect(others.get(id)?.map(({ texture }) => texture)).toEqual(['broken']);
  });

  it('differs where only the ending does', () => {
    const song = introduced(withEnding(withTextures(hymn(GRACE), ['every beat']), 'quiet'));
    const written = writtenOut(song);
    const [, first, last] = written.score.sections;
    expect([first?.name, last?.name]).toEqual(['Verses 1 to 6', 'Verse 7']);
    const { from = 0, to = 0 } = written.endings.get(last?.id ?? '') ?? {};
    expect(to).toBe(last?.to);
    expect(textureIn(written, from - 1)).toBe('every beat');
    expect(textureIn(written, from)).toBe('held');
    expect(textureIn(written, (first?.to ?? 0) - 1)).toBe('every beat');
  });

  it('is left alone where all are played alike', () => {
    const song = withTextures(hymn(GRACE), ['leading']);
    expect(writtenOut(song).score).toBe(song);
  });
});
