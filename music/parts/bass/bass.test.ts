import { describe, expect, it } from 'vitest';
import { hymn } from '#test/support/hymn.ts';
import { songOf } from '#test/support/small-abc.ts';
import type { Key } from '../../pitch/key.ts';
import { midiOf } from '../../pitch/pitch.ts';
import type { Score } from '../../score/score.ts';
import { headingOf, request } from '../../sheet/sheet.ts';
import { of as playedKey } from '../../hand/played-key.ts';
import type { Player, Texture } from '../arrangement.ts';
import { build } from '../parts.ts';

const NOOR: Player = { id: 'noor', name: 'Noor', role: 'bass', level: 'beginner', reach: 12 };
const home = (score: Score) => score.keys[0]?.key as Key;

function partOf(score: Score, textures: readonly Texture[] = [], player: Partial<Player> = {}) {
  const form = score.form.map((pass, i) => ({
    ...pass,
    texture: textures[i] ?? textures.at(-1) ?? ('held' as const),
  }));
  const arrangement = { key: home(score), tempo: null, density: 'bar', form } as const;
  const built = build(score, arrangement, { ...NOOR, ...player }, { roles: [] });
  if (!built.ok) throw new Error(JSON.stringify(built.problems));
  return built.value;
}
const GRACE = hymn('Amazing_Grace-New_Britain.abc');

describe('a bass part', () => {
  it('says what there is to find on the neck, when to come in, and what to practise', () => {
    const part = partOf(GRACE);
    expect(part.summary).toBe(
      'four notes; roots alone, one note at a time: all of it enough for Sunday',
    );
    expect(headingOf(part, NOOR).neck).toEqual([
      'A string: C fret 3',
      'D string: open D, E fret 2',
      'G string: open G',
      'sounds an octave lower than written',
    ]);
    expect(part.introduction).toContain('; come in on its first chord with E (D string, fret 2); ');
    expect(part.countIn).toBe('count 1 2 3 | (play)');
    expect(part.order).toBe('introduction once, then verses 1 to 7');
    expect(part.practice[0]).toMatch(
      /^Practise first: C \(A string, fret 3\) up a fifth to G \(open G string\) in bar \d+, after /,
    );
    expect(headingOf(part, NOOR).rubric).toBe('bass, first rung, for Noor');
  });

  it('plays a slash bass that a person wrote, and the root of a chord without one', () => {
    const part = partOf(songOf('"C"c4|"C/E"c4|"F"A4|"G7"B4|"C"c4|]'));
    const bass = part.score.voices.find(({ id }) => id === 'bass');
    const notes = bass?.notes.flatMap(({ pitches }) => pitches.map((each) => each.charAt(0)));
    expect(notes?.slice(-5).join('')).toBe('CEFGC');
    expect(part.summary).toContain('roots and written slash basses');
  });

  it('is written once on the first rung, with how its notes are struck in the margin', () => {
    const words = partOf(GRACE, ['held', 'leading', 'every beat']).directions;
    expect(words.map((each) => each.words)).toEqual([
      ['bars 13–16; the singers rest', 'hold; strike again on 1'],
      ['verse 2: hold; again on the last beat', 'verses 3 to 7: every beat'],
    ]);
  });

  it.each([
    // In three the second rung has the fifth on the last beat already, where others only lead on.
    ['intermediate', ['held', 'leading'], ['Introduction', 'Verse']],
    [
      'intermediate',
      ['held', 'leading', 'every beat'],
      ['Introduction', 'Verses 1 and 2', 'Verses 3 to 7'],
    ],
    ['advanced', ['swaying', 'every beat', 'broken'], ['Introduction', 'Verse']],
    ['advanced', ['held', 'every beat', 'broken'], ['Introduction', 'Verse 1', 'Verses 2 to 7']],
  ] as const)(
    'on the %s rungs through %j is written out as %j, where its line differs',
    (level, textures, names) => {
      const part = partOf(GRACE, textures, { level });
      expect(part.score.sections.map(({ name }) => name)).toEqual(names);
      // What is played as it is written is not named beside it.
      expect(
        part.directions.flatMap(({ words }) => words).filter((each) => /^verses? \d/.test(each)),
      ).toEqual([]);
      const lines = part.score.sections.map((section) => {
        const bass = part.score.voices.find(({ id }) => id === 'bass')?.notes ?? [];
        const here = bass.filter(({ at }) => at >= section.from && at < section.to);
        return here.map(({ at, pitches }) => `${at - section.from} ${pitches.join()}`).join();
      });
      expect(new Set(lines).size).toBe(lines.length);
    },
  );

  it('has the words of the tune under its notes, each syllable once', () => {
    const part = partOf(GRACE);
    const { score, voices } = request(part, { width: 1180, textScale: 1, verse: 1 });
    expect(voices).toEqual(['bass']);
    const text = (id: string) =>
      (score.voices.find((voice) => voice.id === id)?.notes ?? [])
        .flatMap(({ syllables }) => syllables?.[0] ?? [])
        .map(({ text: each, hyphen }) => (hyphen ? each : `${each} `))
        .join('');
    expect(text('bass')).toBe(text('melody'));
    expect(text('bass')).toMatch(/^Amazing grace! How sweet the sound /);
  });

  it('goes down to B0 with five strings only', () => {
    const song = songOf('"B"B4|"D"A4|"B"B4|]');
    const lowest = (strings: 4 | 5) =>
      partOf(song, [], { instruments: { bassStrings: strings } })
        .score.voices.find(({ id }) => id === 'bass')
        ?.notes.flatMap(({ pitches }) => pitches)
        .sort((a, b) => midiOf(a) - midiOf(b))[0];
    expect([lowest(4), lowest(5)]).toEqual(['B1', 'B0']);
  });
});

describe('a heading', () => {
  it('says where it is read in another key than it sounds in, and what to put back', () => {
    const played = playedKey({ tonic: 'D', mode: 'major' }, 'C', { transposeButton: true }, 'keys');
    expect(headingOf(partOf(GRACE), NOOR, played).played).toEqual({
      words: 'play in C, keyboard set to +2: it sounds in D',
      reminder: 'Set the keyboard back to 0 after this song.',
    });
  });
});
