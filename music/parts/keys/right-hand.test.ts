import { describe, expect, it } from 'vitest';
import { hymn } from '#test/support/hymn.ts';
import { HYMN_FILES } from '#test/support/hymns.ts';
import { songOf } from '#test/support/small-abc.ts';
import { between } from '../../hand/motion.ts';
import type { Shape } from '../../hand/shape.ts';
import { read } from '../../pitch/chord-symbol.ts';
import type { Chord } from '../../pitch/chord.ts';
import { midiOf } from '../../pitch/pitch.ts';
import { QUARTER, type Note, type Score } from '../../score/score.ts';
import type { Player, Texture } from '../arrangement.ts';
import type { Part } from '../part.ts';
import { build } from '../parts.ts';
import type { OwnRungs } from '../rungs.ts';
import { leastMotion } from './right-voiced-line.ts';
import { voicingsOf } from './right-voicings.ts';

function partOf(score: Score, rungs: OwnRungs, texture: Texture = 'held', reach = 12): Part {
  const player: Player = { id: 'p', name: 'Ines', role: 'keys', level: 'beginner', reach, rungs };
  const form = score.form.map((pass) => ({ ...pass, texture }));
  const key = score.keys[0]?.key ?? { tonic: 'C', mode: 'major' };
  const built = build(score, { key, tempo: null, density: 'bar', form }, player, {
    roles: ['keys'],
  });
  if (!built.ok) throw new Error(JSON.stringify(built.problems));
  return built.value;
}

const rightOf = ({ score }: Part): readonly Note[] =>
  score.voices.find(({ id }) => id === 'right')?.notes ?? [];

/** The song's own bars, the introduction left out: `C4+E4+G4 4 | …`, soft notes in brackets. */
function played(part: Part): string {
  const start = part.score.sections.find(({ id }) => id === 'introduction')?.to ?? 0;
  return rightOf(part)
    .filter(({ at }) => at >= start)
    .map(({ pitches, length, soft }) => {
      const what = `${pitches.join('+') || 'r'} ${length / QUARTER}`;
      return soft ? `(${what})` : what;
    })
    .join(' | ');
}

const remarksOf = ({ directions }: Part) => directions.flatMap(({ words }) => words);
const chord = (symbol: string): Chord => {
  const found = read(symbol);
  if (!found.ok) throw new Error(symbol);
  return found.value;
};

const SONG = songOf('"C"e4|"F"f4|"G"d4|"C"B4|]', ['one two three four']);

describe('the right hand with the tune on top (rung 3)', () => {
  it('has on top what is sung as the chord begins, and names the bars where no chord note is', () => {
    const part = partOf(SONG, { right: 3, texture: 6 });
    expect(played(part)).toMatch(/^G4\+C5\+E5 4 \| A4\+C5\+F5 4 \| G4\+B4\+D5 4 \| \S+ 4$/);
    expect(remarksOf(part)).toContain(
      'the tune is not on top in bar 4: no shape within reach has the note that is sung as the chord begins',
    );
  });

  it('counts a note that is held into the chord, and takes a high tune an octave lower', () => {
    const tied = songOf('"C"g2-"G"g2|"C"c\'4|]', ['one two']);
    const tops = rightOf(partOf(tied, { right: 3, texture: 6 })).map(({ pitches }) =>
      pitches.at(-1),
    );
    expect(tops.slice(-3)).toEqual(['G5', 'G5', 'C5']);
  });

  it('holds the fifth of a seventh chord where that is sung', () => {
    const song = songOf('"G7"d4|"C"c4|]', ['one two']);
    expect(played(partOf(song, { right: 3, texture: 6 }))).toMatch(/^F4\+G4\+B4\+D5 4/);
  });

  it('is played in one section alone where only that is asked', () => {
    const id = SONG.sections[0]?.id ?? '';
    const usual = partOf(SONG, { right: 2, left: 2, texture: 6 });
    const there = partOf(SONG, { right: 2, left: 2, texture: 6, sections: { [id]: { right: 3 } } });
    expect(played(there)).toBe(played(partOf(SONG, { right: 3, left: 2, texture: 6 })));
    expect(played(there)).not.toBe(played(usual));
  });
});

describe('full and open voicings (rung 4)', () => {
  it('double the tune an octave below in a full texture, fingers by the tables of 1900', () => {
    const [first] = voicingsOf(chord('C'), { voicing: 'full', sung: 'C5', reach: 12 });
    expect(first).toEqual({ notes: ['C4', 'E4', 'G4', 'C5'], fingers: [1, 2, 3, 5] });
  });

  it('leave the root to the left hand in a calm one, unless it is sung or another bass is written', () => {
    const open = (symbol: string, sung: string) =>
      voicingsOf(chord(symbol), { voicing: 'open', sung, reach: 12 }).map(({ notes }) =>
        notes.join(' '),
      );
    expect(open('C', 'E5')).toEqual(['E4 G4 E5']);
    expect(open('C', 'G5')).toEqual(['G4 E5 G5']);
    expect(open('C', 'C5')).toEqual(['E4 G4 C5']);
    expect(open('G7', 'F5')).toEqual(['B4 D5 F5']);
    expect(open('C/E', 'E5')).toEqual(['G4 C5 E5']);
  });

  it('are the best of all sets of up to four keys (every set tried)', () => {
    const [low, high] = [midiOf('G3'), midiOf('G5')];
    const all = Array.from({ length: high - low + 1 }, (_, i) => low + i);
    const sets: number[][] = [];
    const grow = (keys: number[], from: number): void => {
      if (keys.length > 0) sets.push(keys);
      if (keys.length < 4) for (const key of all.slice(from - low)) grow([...keys, key], key + 1);
    };
    grow([], low);
    // What is asked of a full shape, in words: chord tones, none twice but the outer two of an octave; complete; the tune
    // on top; the tones that three notes leave out; an octave at most; three notes, four notes.
    const cases = [
      ['C', [0, 4, 7], [0, 4, 7], 'E5', 12],
      ['C', [0, 4, 7], [0, 4, 7], 'C4', 12],
      ['Am', [9, 0, 4], [9, 0, 4], 'A4', 9],
      ['G7', [7, 11, 2, 5], [7, 11, 5], 'D5', 12],
      ['G7', [7, 11, 2, 5], [7, 11, 5], null, 11],
      ['F', [5, 9, 0], [5, 9, 0], 'B4', 14],
    ] as const;
    for (const [symbol, tones, needed, sung, reach] of cases) {
      const rank = (keys: readonly number[]): number[] | null => {
        const classes = keys.map((key) => key % 12);
        const span = (keys.at(-1) ?? 0) - (keys[0] ?? 0);
        const doubled = classes.length - new Set(classes).size;
        const isOctave = classes.at(-1) === classes[0] && span === 12;
        const isAllowed = classes.every((each) => tones.some((tone) => tone === each));
        if (!isAllowed || span > reach || doubled > (isOctave ? 1 : 0)) return null;
        const lacks = (owed: readonly number[]) =>
          owed.filter((tone) => !classes.includes(tone)).length;
        const top = keys.at(-1) ?? 0;
        const tune = sung === null ? top : midiOf(sung);
        const missed = top === tune ? 0 : top % 12 === tune % 12 ? 1 : 2;
        const thin = keys.length < 3 ? 1 : 0;
        return [lacks(needed), missed, lacks(tones), Math.max(0, span - 12), thin, 4 - keys.length];
      };
      const ranked = sets.flatMap((keys) => {
        const own = rank(keys);
        return own
          ? [{ keys: keys.join(' '), rank: own.map((n) => String(n).padStart(2)).join() }]
          : [];
      });
      const least = ranked.map((each) => each.rank).sort()[0];
      const best = ranked.filter((each) => each.rank === least).map(({ keys }) => keys);
      const found = voicingsOf(chord(symbol), { voicing: 'full', sung, reach });
      expect(found.map(({ notes }) => notes.map(midiOf).join(' ')).sort(), symbol).toEqual(
        best.sort(),
      );
    }
  });

  it('never go beyond a small hand', () => {
    for (const reach of [7, 8, 9, 10, 11, 12, 14])
      for (const symbol of ['C', 'F#m', 'Bb7', 'Dm7', 'Gsus4', 'Bdim', 'Cmaj9', 'E5'])
        for (const voicing of ['full', 'open'] as const)
          for (const sung of [null, 'C5', 'F#4', 'Bb5', 'D4']) {
            const shapes = voicingsOf(chord(symbol), { voicing, sung, reach });
            expect(shapes.length, symbol).toBeGreaterThan(0);
            for (const { notes } of shapes) {
              const keys = notes.map(midiOf);
              expect((keys.at(-1) ?? 0) - (keys[0] ?? 0)).toBeLessThanOrEqual(reach);
            }
          }
  });

  it('differ from the third rung and change with the texture', () => {
    const [three, open, full] = [
      partOf(SONG, { right: 3, texture: 6 }),
      partOf(SONG, { right: 4, texture: 6 }),
      partOf(SONG, { right: 4, texture: 6 }, 'every beat'),
    ];
    expect(played(open)).toMatch(/^E4\+G4\+E5 4/);
    expect(played(full)).toMatch(/^E4\+G4\+C5\+E5 1/);
    expect(new Set([three, open, full].map(played)).size).toBe(3);
  });

  it('sound every note of a broken chord of four', () => {
    const part = partOf(SONG, { right: 4, texture: 6 }, 'broken');
    expect(played(part)).toMatch(/^E4 0.5 \| G4 0.5 \| E5 0.5 \| C5 0.5/);
  });
});

describe('the way through voicings', () => {
  /** Numbers in a row that look like chance and are the same each time. */
  function rolls(seed: number): () => number {
    let state = seed;
    return () => (state = (state * 48271) % 2147483647) / 2147483647;
  }

  const SYMBOLS = ['C', 'Dm7', 'F', 'G7', 'Am', 'Bb', 'E7'];
  const TUNE = [null, 'C5', 'E5', 'A4'];

  it('is the best of all ways (every way tried)', () => {
    const middle = midiOf('G3') + midiOf('G5');
    const rankOf = (way: readonly Shape[]): readonly [number, number] => [
      way.slice(1).reduce((sum, to, i) => sum + between(way[i]?.notes ?? [], to.notes).total, 0),
      way.reduce(
        (sum, { notes }) =>
          sum + Math.abs(midiOf(notes[0] ?? 'C4') + midiOf(notes.at(-1) ?? 'C4') - middle),
        0,
      ),
    ];
    for (let seed = 1; seed <= 40; seed++) {
      const roll = rolls(seed * 7919);
      const pick = <T>(all: readonly T[]): T => all[Math.floor(roll() * all.length)] as T;
      const choices = Array.from({ length: 4 }, () =>
        voicingsOf(chord(pick(SYMBOLS)), {
          voicing: pick(['full', 'open'] as const),
          sung: pick(TUNE),
          reach: 12,
        }),
      );
      const ways = choices.reduce<Shape[][]>(
        (all, shapes) => all.flatMap((way) => shapes.map((shape) => [...way, shape])),
        [[]],
      );
      const best = ways.map(rankOf).reduce((a, b) => ((b[0] - a[0] || b[1] - a[1]) < 0 ? b : a));
      expect(rankOf(leastMotion(choices))).toEqual(best);
    }
  });
});

describe('fills at the ends of phrases', () => {
  it('come where a phrase of the words ends on a long note, softly, and are named', () => {
    const song = songOf('"C"c2c2|"G"d4|"C"c2e2|"G"d4|"C"c4|]', [
      'one two three, four five six. seven.',
    ]);
    const part = partOf(song, { right: 4, texture: 6 });
    expect(played(part)).toBe(
      'E4+G4+C5 4 | D4+B4+D5 3 | (E5 0.5) | (D5 0.5) | E4+G4+C5 2 | (E5 2) | D4+B4+D5 3 | (E5 0.5) | (D5 0.5) | E4+G4+C5 4',
    );
    expect(remarksOf(part)).toContain('the fills in bars 2 and 4 may be left out');
    const without = partOf(song, { right: 3, texture: 6 });
    expect(played(without)).toBe(
      'E4+G4+C5 4 | G4+B4+D5 4 | E4+G4+C5 2 | (E5 2) | G4+B4+D5 4 | E4+G4+C5 4',
    );
  });

  it.each(HYMN_FILES)('take another finger for another key: %s', (file) => {
    // A finger that is not shown is the one that was last shown on its key.
    const shown = new Map<string, number>();
    const [third, fourth] = [3, 4].map((right) =>
      rightOf(partOf(hymn(file), { right: right as 3 | 4, texture: 6 })),
    );
    const isFill = ({ at, soft }: Note) => soft && third?.every((each) => each.at !== at);
    const notes = (fourth ?? []).map((note) => {
      note.pitches.forEach((pitch, i) => shown.set(pitch, note.fingers?.[i] ?? shown.get(pitch) ?? 0)); // prettier-ignore
      return { ...note, own: note.pitches.map((pitch) => shown.get(pitch)) };
    });
    notes.forEach((note, i) => {
      const next = notes[i + 1];
      if (!note.soft || !next?.soft || !(isFill(note) || isFill(next))) return;
      const isRepeated = note.pitches[0] === next.pitches[0];
      expect(note.own[0] === next.own[0], `at ${note.at}`).toBe(isRepeated);
    });
  });
});

describe('the soft repeated note', () => {
  it('is the note of the shape that is sung longest, from the second rung on', () => {
    const song = songOf('"C"e4|"C"g4|"C"c4|]', ['one two three']);
    const part = partOf(song, { right: 2, texture: 6 }, 'answered');
    const soft = rightOf(part)
      .filter((note) => note.soft)
      .flatMap(({ pitches }) => pitches.map((pitch) => pitch.charAt(0)));
    expect(soft.slice(-3)).toEqual(['E', 'G', 'C']);
  });

  it('is a pulse on every felt beat where that is asked, and rests where no chord note is sung', () => {
    const song = songOf('"C"e4|"F"f4|"C"d4|]', ['one two three']);
    const part = partOf(song, { right: 1, pulse: true });
    expect(played(part)).toMatch(
      /^\S+ 1 \| \(E\d 1\) \| \(E\d 1\) \| \(E\d 1\) \| \S+ 1 \| \(F\d 1\) \| \(F\d 1\) \| \(F\d 1\) \| \S+ 4$/,
    );
  });
});
