import { describe, expect, it } from 'vitest';
import { hymn } from '#test/support/hymn.ts';
import { songOf } from '#test/support/small-abc.ts';
import type { Key } from '../../pitch/key.ts';
import { QUARTER, type Score } from '../../score/score.ts';
import type { Player, Texture } from '../arrangement.ts';
import type { Level } from '../level.ts';
import type { Part, Role } from '../part.ts';
import { build } from '../parts.ts';
import type { OwnRungs } from '../rungs.ts';

interface Asked {
  readonly level?: Level;
  readonly texture?: Texture;
  readonly roles?: readonly Role[];
  readonly key?: Key;
  readonly rungs?: OwnRungs;
}

function partOf(score: Score, asked: Asked = {}): Part {
  const { level = 'intermediate', texture = 'held', roles = ['bass'] } = asked;
  const form = score.form.map((pass) => ({ ...pass, texture }));
  const key = asked.key ?? score.keys[0]?.key;
  if (!key) throw new Error('a song has a key');
  const own = asked.rungs ? { rungs: asked.rungs } : {};
  const player: Player = { id: 'n', name: 'Noor', role: 'bass', level, reach: 12, ...own };
  const built = build(score, { key, tempo: null, density: 'bar', form }, player, { roles });
  if (!built.ok) throw new Error(JSON.stringify(built.problems));
  return built.value;
}

/** The song without its introduction, bar by bar: `C2:2 G1:2 | …`, lengths in quarters. */
function line(part: Part): string {
  const bass = part.score.voices.find(({ id }) => id === 'bass');
  return part.score.bars
    .filter(({ copyOf }) => copyOf === undefined)
    .map(({ at, length }) =>
      (bass?.notes ?? [])
        .filter((note) => note.at >= at && note.at < at + length)
        .map((note) => `${note.pitches[0] ?? 'rest'}:${note.length / QUARTER}`)
        .join(' '),
    )
    .join(' | ');
}

const FOUR = songOf('"C"C4|C4|"F"A4|"G"B4|"C"C4|]');
const THREE = songOf('"C"C3|C3|C3|"F"A3|"C"C3|]', [], 'M:3/4\nL:1/4');

describe('the second rung on the bass', () => {
  // Common practice of root and fifth: root on one, fifth on the middle beat, a step of the scale into the next chord.
  it.each([
    ['held', 'C2:2 G1:2 | C2:2 G1:1 E1:1 | F1:2 '],
    ['every beat', 'C2:1 C2:1 G1:1 G1:1 | C2:1 C2:1 G1:1 E1:1 | F1:1 '],
    ['leading', 'C2:2 G1:1 G1:1 | C2:2 G1:1 E1:1 | F1:2 '],
    ['swaying', 'C2:2 G1:2 | C2:2 G1:1 E1:1 | F1:2 '],
  ] as const)('in four, %s: %s', (texture, start) => {
    const played = line(partOf(FOUR, { texture }));
    expect(played.startsWith(start)).toBe(true);
    expect(played).toMatch(/C2:\d( C2:\d)*$/);
  });

  it('in three has the fifth on the last beat, swaying in every second bar', () => {
    expect(line(partOf(THREE))).toBe('C2:2 G1:1 | C2:2 G1:1 | C2:2 G1:1 | F1:2 B1:1 | C2:3');
  });

  it('swaying in three has a bar of root and a bar of fifth in turn', () => {
    expect(line(partOf(THREE, { texture: 'swaying' }))).toMatch(/^C2:3 \| G1:3 \| C2:2 /);
  });

  it('keeps a bass that a person wrote, without a fifth over it', () => {
    const slash = songOf('"C/E"C4|"F"A4|"C"C4|]');
    expect(line(partOf(slash))).toMatch(/^E2:\d/);
    expect(line(partOf(slash)).split(' | ')[0]).not.toContain('B');
  });

  it('strikes with the kick where there is a drummer, and says so', () => {
    const roles: Role[] = ['bass', 'drums'];
    const slash = songOf('"C/E"C4|C4|"C"C4|]');
    expect(line(partOf(slash))).toMatch(/^E2:4 \| /);
    const part = partOf(slash, { roles });
    expect(line(part)).toMatch(/^E2:2 E2:2 \| /);
    expect(part.directions.flatMap(({ words }) => words)).toContain('with the kick on 1 and 3');
  });
});

describe('the third rung on the bass', () => {
  it('walks on every beat in a full texture, and holds the last chord', () => {
    const part = partOf(FOUR, { level: 'advanced', texture: 'every beat' });
    const bars = line(part).split(' | ');
    expect(bars[0]?.split(' ')).toHaveLength(4);
    expect(bars.at(-1)).toMatch(/^C\d:4$/);
    expect(part.directions.flatMap(({ words }) => words)).toEqual(
      expect.arrayContaining([
        'walk, a note on each of the four beats',
        'chord notes on 1 and 3; a step into each new chord',
      ]),
    );
  });

  it('has the second rung’s line where the others hold and the song has no bass of its own', () => {
    const song = songOf('"C"C4|"F"A4|"Dm"A4|"G"B4|"C"C4|]');
    const [third, second] = (['advanced', 'intermediate'] as const).map((level) =>
      partOf(song, { level }),
    );
    expect(line(third as Part)).toBe(line(second as Part));
    expect(line(third as Part)).toContain('D2:2 A1:1');
  });

  it('holds the dominant before its own chord into a cadence, and names the bars', () => {
    const part = partOf(songOf('"C"C4|"F"A4|"C"C4|"G"B4|"C"C4|]'), { level: 'advanced' });
    expect(line(part)).toMatch(/ \| G1:4 \| G1:4 \| C2:4$/);
    expect(part.directions.flatMap(({ words }) => words)).toContain(
      'stays under a new chord: G in bar 4',
    );
  });

  it('has the bass of the hymn where the others hold, as it climbs to “crown Him”', () => {
    const file = 'All_Hail_The_Power_Of_Jesus_Name-Coronation.abc';
    const part = partOf(hymn(file), { level: 'advanced', key: { tonic: 'Eb', mode: 'major' } });
    const bars = line(part).split(' | ');
    // As its editors wrote it (Open Hymnal Project), bars 2 and 12 to 13 after the pickup, in E flat.
    expect(bars[2]).toBe('Bb1:1 C2:1 Bb1:1 G1:1');
    expect(bars.slice(12, 14)).toEqual(['G2:2 Ab2:2', 'Bb2:4']);
    expect(part.summary).toContain('the bass of the song');
    expect(part.directions.flatMap(({ words }) => words)).toContain(
      'the bass of the song, else root and fifth',
    );
  });

  it('says the line in numbers, four bars to a line', () => {
    const numbers = partOf(songOf('"C"C4|"Bb"_B4|"G"B4|"C"C4|"C"C4|]'), {
      level: 'beginner',
    }).numbers;
    expect(numbers?.at(-1)?.words).toEqual(['1 | ♭7 | 5 | 1', '1']);
  });

  it('says in which places the hand moves, and practises them first', () => {
    const part = partOf(hymn('Amazing_Grace-New_Britain.abc'), {
      level: 'advanced',
      texture: 'every beat',
      key: { tonic: 'C', mode: 'major' },
    });
    expect(part.summary).toContain(
      '; the hand lies on frets 1 to 5 and moves along the neck once:',
    );
    // From B on the fourth fret to C on the fifth the first four frets are left for the next ones.
    expect(part.practice[0]).toMatch(
      /^Practise first: B \(G string, fret 4\) up a half step to C \(G string, fret 5\) in bar \d+, after one beat; the hand goes up one fret, to frets 2 to 5\. /,
    );
  });
});

describe('a rung of one’s own', () => {
  const two = songOf('P:A\n"C"C4|C4|"F"A4|"G"B4|]\nP:B\n"C"C4|C4|"F"A4|"G"B4|]');

  it('counts before the level, and is what the sheet is called by', () => {
    for (const [rung, level] of [
      [1, 'beginner'],
      [2, 'intermediate'],
      [3, 'advanced'],
    ] as const) {
      const own = partOf(FOUR, { level: 'beginner', rungs: { bass: rung }, texture: 'every beat' });
      const usual = partOf(FOUR, { level, texture: 'every beat' });
      expect(own.level).toBe(level);
      expect(line(own)).toBe(line(usual));
    }
    expect(partOf(FOUR, { level: 'advanced', rungs: { left: 2 } }).level).toBe('advanced');
  });

  it('counts for one section alone, with its directions and the drummer’s kick', () => {
    const asked = { level: 'beginner', texture: 'every beat', roles: ['bass', 'drums'] } as const;
    const [first, second] = two.sections;
    if (!first || !second) throw new Error('two sections');
    const part = partOf(two, { ...asked, rungs: { sections: { [second.id]: { bass: 3 } } } });
    const plain = partOf(two, asked);
    const bars = (each: Part) => line(each).split(' | ');
    expect(bars(part).slice(0, 3)).toEqual(bars(plain).slice(0, 3));
    // From another note the way can be another one: a line, but not bar for bar that of the song walked all through.
    const onBeats = (each: string) => each.split(' ').length === 4;
    expect(bars(part).slice(4, 7).every(onBeats)).toBe(true);
    expect(bars(part).slice(4, 7)).not.toEqual(bars(plain).slice(4, 7));
    const words = part.directions.map((each) => each.words.join('; '));
    expect(words.filter((each) => each.includes('walk, a note on each'))).toHaveLength(1);
    expect(words.filter((each) => each.includes('with the kick'))).toHaveLength(1);
    expect(part.summary).toContain('walking lines');
  });
});
