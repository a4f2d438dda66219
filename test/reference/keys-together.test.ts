import { describe, expect, it } from 'vitest';
import {
  ChordSymbol,
  Parts,
  Pitches,
  TEXTURES,
  Time,
  type Note,
  type Part,
  type Player,
  type RungSteps as Steps,
  type Score,
  type Texture,
} from '#music';
import { hymn } from '#test/support/hymn.ts';
import { HYMN_FILES } from '#test/support/hymns.ts';

const RIGHT = [1, 2, 3, 4] as const;

function part(score: Score, rungs: Steps, textures: readonly Texture[]): Part {
  const player: Player = {
    id: 'p',
    name: 'Ines',
    role: 'keys',
    level: 'beginner',
    reach: 12,
    rungs,
  };
  const form = score.form.map((pass, i) => ({
    ...pass,
    texture: textures[i % textures.length] ?? 'held',
  }));
  const key = score.keys[0]?.key;
  if (!key) throw new Error('a hymn has a key');
  const built = Parts.build(score, { key, tempo: null, density: 'bar', form }, player, {
    roles: ['keys'],
  });
  if (!built.ok) throw new Error(JSON.stringify(built.problems));
  return built.value;
}

const notesOf = ({ score }: Part, ...ids: readonly string[]): Note[] =>
  score.voices.filter(({ id }) => ids.includes(id)).flatMap(({ notes }) => notes);

interface Sound {
  readonly key: number;
  readonly from: number;
  readonly to: number;
}

/** What sounds, a key that is struck again at once as one sound. */
function soundsOf(notes: readonly Note[]): Sound[] {
  const sounds: { key: number; from: number; to: number }[] = [];
  for (const { at, length, pitches } of notes)
    for (const key of pitches.map(Pitches.midiOf)) {
      const before = sounds.findLast((each) => each.key === key && each.to === at);
      if (before) before.to = at + length;
      else sounds.push({ key, from: at, to: at + length });
    }
  return sounds;
}

/** A minor second or ninth, or their inversions: two different keys of the octave beside each other. */
const isHalfStep = (a: number, b: number): boolean => [1, 11].includes(Math.abs(a - b) % 12);

/** Where two parts are a half step apart for more than a felt beat and no chord there has both tones. */
function clashes({ score }: Part, one: readonly Sound[], other: readonly Sound[]): string[] {
  return one.flatMap((a) =>
    other.flatMap((b) => {
      const [from, to] = [Math.max(a.from, b.from), Math.min(a.to, b.to)];
      const beat = Time.feltBeat(Time.meterAt(score, from));
      if (!isHalfStep(a.key, b.key) || to - from <= beat) return [];
      const chords = score.chords.filter(({ at, length }) => at < to && at + length > from);
      const isMeant = chords.some(({ chord }) => {
        const tones = chord ? ChordSymbol.pitchClassesOf(chord) : [];
        return tones.includes(a.key % 12) && tones.includes(b.key % 12);
      });
      return isMeant ? [] : [`${a.key} and ${b.key} in bar ${Time.barAt(score, from).number}`];
    }),
  );
}

describe.each(HYMN_FILES)('players of different steps: %s', (file) => {
  const score = hymn(file);
  const texture = TEXTURES[HYMN_FILES.indexOf(file) % TEXTURES.length] ?? 'held';
  // One texture through the song, so that all pages have one time line.
  const parts = RIGHT.map((step) =>
    part(score, { right: step, left: step, pedal: 0, texture: 6 }, [texture]),
  );

  it('play together: no half steps between them for more than a felt beat', () => {
    const sounds = parts.map((each) => soundsOf(notesOf(each, 'right', 'left')));
    for (const [i, each] of parts.entries()) {
      expect(each.score.bars).toEqual(parts[0]?.score.bars);
      for (const other of sounds) expect(clashes(each, sounds[i] ?? [], other)).toEqual([]);
    }
  });

  it('have no single soft note a half step from what is sung', () => {
    const full = parts[3] as Part;
    const sung = soundsOf(notesOf(full, 'melody'));
    const fills = notesOf(full, 'right').filter((note) => note.soft && note.pitches.length === 1);
    for (const { key, from, to } of soundsOf(fills))
      for (const each of sung)
        if (each.from < to && each.to > from) {
          const chord = full.score.chords.findLast(({ at }) => at <= from)?.chord;
          const tones = chord ? ChordSymbol.pitchClassesOf(chord) : [];
          // The soft note of an answered chord is a note of that chord.
          if (!tones.includes(key % 12)) expect(isHalfStep(key, each.key)).toBe(false);
        }
  });
});

describe('the judge of parts together', () => {
  it('finds a half step that lasts, and lets pass what a chord has or what is gone after a beat', () => {
    const [file = ''] = HYMN_FILES;
    const built = part(hymn(file), { right: 2, left: 1, pedal: 0, texture: 6 }, ['held']);
    const chord = built.score.chords.find(({ chord: each }) => each?.kind === 'major');
    if (!chord?.chord) throw new Error('a hymn has a major chord');
    const [root = 0] = ChordSymbol.pitchClassesOf(chord.chord);
    const beat = Time.feltBeat(Time.meterAt(built.score, chord.at));
    const sound = (key: number, beats: number): Sound => ({
      key,
      from: chord.at,
      to: chord.at + beats * beat,
    });
    expect(clashes(built, [sound(60 + root, 2)], [sound(73 + root, 2)])).toHaveLength(1);
    expect(clashes(built, [sound(60 + root, 2)], [sound(73 + root, 1)])).toEqual([]);
    expect(clashes(built, [sound(60 + root, 2)], [sound(62 + root, 2)])).toEqual([]);
  });
});
