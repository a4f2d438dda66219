import { describe, expect, it } from 'vitest';
import { songOf } from '#test/support/small-abc.ts';
import { ofSong } from '../../order/lengths.ts';
import { readKey, type Key } from '../../pitch/key.ts';
import { QUARTER, type Loop, type Score } from '../../score/score.ts';
import { of as wordsSheet } from '../../sheet/words-sheets.ts';
import { introductionOf } from './introduction.ts';
import { loopsIn, sayAmen, sayLoop, sayLoopPass } from './loop-words.ts';
import { sayOrder } from './order-words.ts';
import { build } from '../parts.ts';
import type { Role } from '../part.ts';

const BAR = 4 * QUARTER;
const LOOP: Loop = { cue: 'after the prayer', amen: true };

/** Four bars of verse, then two that go round under a prayer. */
function song(loop: Loop | null = LOOP): Score {
  const plain = songOf('"C"CDEF|"F"FGAB|"G"GFED|"C"C4|"F"F4|"C"E4|]', ['la la la la']);
  const vamp = { id: 'vamp', kind: 'vamp', name: 'Vamp', from: 4 * BAR, to: 6 * BAR } as const;
  return {
    ...plain,
    tempo: { beat: QUARTER, perMinute: 60 },
    sections: [
      { id: 'verse', kind: 'verse', name: 'Verse', from: 0, to: 4 * BAR },
      loop ? { ...vamp, loop } : vamp,
    ],
    form: [
      { section: 'verse', verse: 1 },
      { section: 'vamp', verse: null },
    ],
  };
}

const vampOf = (score: Score) => score.sections[1] ?? (score.sections[0] as never);

describe('An open loop under prayer or speech', () => {
  it.each([
    ['C', 'F–C'],
    ['G', 'C–G'],
    ['Eb', 'A♭–E♭'],
    ['D minor', 'Gm–Dm'],
    ['D dorian', 'G–Dm'],
  ])('closes in %s with the chords of the plagal close, %s (common practice)', (key, chords) => {
    expect(sayAmen(readKey(key) as Key)).toBe(chords);
  });

  it('says what to listen for, and how it ends', () => {
    const score = song();
    expect(sayLoop(score, vampOf(score))).toBe('repeat softly until: after the prayer; then Amen (F–C)'); // prettier-ignore
    expect(sayLoop(score, score.sections[0] as never)).toBe('');
    const plain = song({ cue: 'all are seated.', amen: false });
    expect(sayLoop(plain, vampOf(plain))).toBe('repeat softly until: all are seated');
    const bare = song(null);
    expect(sayLoop(bare, vampOf(bare))).toBe('repeat softly until: the leader goes on');
  });

  it('stands in the order of the passes by what ends it', () => {
    expect(sayLoopPass(vampOf(song()))).toBe('soft loop until after the prayer');
    expect(sayOrder(song())).toBe('verse 1, soft loop until after the prayer');
    expect(loopsIn(song())).toEqual(['vamp']);
  });

  it('has no length, and the song says so', () => {
    const length = ofSong(song(), { tempo: null, form: null });
    expect(length.seconds).toBeNull();
    expect(length.words).toMatch(/^open: about \d+ seconds, the introduction included, and the vamp for as long as it is needed$/); // prettier-ignore
    const verse = [{ section: 'verse', verse: 1 }];
    expect(ofSong(song(), { tempo: null, form: verse }).seconds).toBeGreaterThan(0);
  });

  it('is no introduction', () => {
    const { spans } = introductionOf(song());
    expect(spans).not.toEqual([]);
    for (const { to } of spans) expect(to).toBeLessThanOrEqual(4 * BAR);
  });

  it.each(['keys', 'bass', 'lead voice'] as const satisfies readonly Role[])(
    'is told to the %s in the key that the song is done in',
    (role) => {
      const arrangement = { key: readKey('D') as Key, tempo: null, density: 'bar' } as const;
      const player = { id: 'i', name: 'Ines', role, level: 'beginner', reach: 12 } as const;
      const part = build(song(), arrangement, player, { roles: [] });
      const words = part.ok ? part.value.directions.flatMap((each) => each.words) : [];
      expect(words).toContain('repeat softly until: after the prayer; then Amen (G–D)');
    },
  );

  it('is told over the words', () => {
    const arrangement = { key: readKey('D') as Key, tempo: null, density: 'bar' } as const;
    const sheet = wordsSheet(song(), arrangement, { name: 'Ines', role: 'guitar' });
    const pass = sheet.ok ? sheet.value.passes.find(({ name }) => name === 'Vamp') : undefined;
    expect(pass?.directions).toEqual(['repeat softly until: after the prayer; then Amen (G–D)']);
  });
});
