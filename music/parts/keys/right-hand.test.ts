import { describe, expect, it } from 'vitest';
import { hymn } from '#test/support/hymn.ts';
import { HYMN_FILES } from '#test/support/hymns.ts';
import { songOf } from '#test/support/small-abc.ts';
import { QUARTER, type Note, type Score } from '../../score/score.ts';
import type { Player, Texture } from '../arrangement.ts';
import type { Part } from '../part.ts';
import { build } from '../parts.ts';
import type { OwnRungs } from '../rungs.ts';

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

const SONG = songOf('"C"e4|"F"f4|"G"d4|"C"B4|]', ['one two three four']);

describe('the right hand with the tune on top (rung 3)', () => {
  it('has on top what is sung as the chord begins, and names the bars where no chord note is', () => {
    const part = partOf(SONG, { right: 3, texture: 6 });
    expect(played(part)).toMatch(/^G4\+C5\+E5 4 \| A4\+C5\+F5 4 \| G4\+B4\+D5 4 \| \S+ 4$/);
    expect(remarksOf(part)).toContain(
      'the tune is not on top in bar 4: no shape within reach has the note that is sung as the chord begins',
    );
  });

  it('counts a note that is held into the chord, and takes a phrase that goes too high an octave lower as a whole', () => {
    const tied = songOf('"C"g2-"G"g2|"C"c\'4|]', ['one two']);
    const tops = rightOf(partOf(tied, { right: 3, texture: 6 })).map(({ pitches }) =>
      pitches.at(-1),
    );
    expect(tops.slice(-3)).toEqual(['G4', 'G4', 'C5']);
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

describe('the fourth rung', () => {
  it('differ from the third rung and change with the texture', () => {
    const [three, open, full] = [
      partOf(SONG, { right: 3, texture: 6 }),
      partOf(SONG, { right: 4, texture: 6 }),
      partOf(SONG, { right: 4, texture: 6 }, 'every beat'),
    ];
    expect(played(open)).toMatch(/^E4\+G4\+C5\+E5 4/);
    expect(played(full)).toMatch(/^E4\+G4\+C5\+E5 1/);
    expect(new Set([three, open, full].map(played)).size).toBe(3);
  });

  it('sound every note of a broken chord of four', () => {
    const part = partOf(SONG, { right: 4, texture: 6 }, 'broken');
    expect(played(part)).toMatch(/^E4 0.5 \| G4 0.5 \| E5 0.5 \| C5 0.5/);
  });
});

describe('fills at the ends of phrases', () => {
  it('come where a phrase of the words ends on a long note, softly, and are named', () => {
    const song = songOf('"C"c2c2|"G"d4|"C"c2e2|"G"d4|"C"c4|]', [
      'one two three, four five six. seven.',
    ]);
    const part = partOf(song, { right: 4, texture: 6 });
    expect(played(part)).toBe(
      'C4+E4+G4+C5 4 | D4+G4+B4+D5 3 | (E5 0.5) | (D5 0.5) | C4+E4+G4+C5 2 | (E5 2) | D4+G4+B4+D5 3 | (E5 0.5) | (D5 0.5) | C4+E4+G4+C5 4',
    );
    expect(remarksOf(part)).toContain('the fills in bars 2 and 4 may be left out');
    const without = partOf(song, { right: 3, texture: 6 });
    expect(played(without)).toBe(
      'E4+G4+C5 4 | G4+B4+D5 4 | E4+G4+C5 2 | (E5 2) | G4+B4+D5 4 | E4+G4+C5 4',
    );
  });
});

describe.each([3, 4] as const)('single notes in a row on step %i', (right) => {
  it.each(HYMN_FILES)('take another finger for another key (common practice): %s', (file) => {
    // A finger that is not shown is the one that was last shown on its key.
    const shown = new Map<string, number>();
    const notes = rightOf(partOf(hymn(file), { right, texture: 6 })).map((note) => {
      note.pitches.forEach((pitch, i) => shown.set(pitch, note.fingers?.[i] ?? shown.get(pitch) ?? 0)); // prettier-ignore
      return { ...note, own: note.pitches.map((pitch) => shown.get(pitch)) };
    });
    notes.forEach((note, i) => {
      const next = notes[i + 1];
      if (note.pitches.length !== 1 || next?.pitches.length !== 1) return;
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
