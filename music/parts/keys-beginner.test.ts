import { describe, expect, it } from 'vitest';
import { HYMN_FILES } from '#test/support/hymns.ts';
import { hymn } from '#test/support/hymn.ts';
import { schemaErrors } from '#test/support/musicxml-schema.ts';
import { buildScore } from '#test/support/score-builder.ts';
import { write } from '../formats/musicxml.ts';
import { pitchClassesOf, say, write as writeChord } from '../pitch/chord-symbol.ts';
import { readKey, writeKey } from '../pitch/key.ts';
import { midiOf, noteOf, pitchClassOf } from '../pitch/pitch.ts';
import type { Note, Score, Voice } from '../score/score.ts';
import { endOf, noteAt } from '../score/time.ts';
import type { Result } from '../result.ts';
import type { Arrangement, Player, Texture } from './arrangement.ts';
import { INTRODUCTION } from './form/introduction.ts';
import type { Part } from './part.ts';
import { build } from './parts.ts';

const INES: Player = { id: 'ines', name: 'Ines', role: 'keys', level: 'beginner', reach: 12 };

function builtIn(
  score: Score,
  key: string | null,
  player = INES,
  more: Partial<Arrangement> = {},
): Result<Part> {
  const home = score.keys[0]?.key;
  const wanted = key === null ? home : readKey(key);
  if (!wanted || !home) throw new Error(`no key ${key}`);
  const arrangement = {
    key: { ...wanted, mode: home.mode },
    tempo: null,
    density: 'bar',
    ...more,
  } as const;
  return build(score, arrangement, player, { roles: ['keys'] });
}

function partIn(score: Score, key: string | null = null, player = INES): Part {
  const built = builtIn(score, key, player);
  if (!built.ok) throw new Error(JSON.stringify(built.problems));
  return built.value;
}

const voiceOf = (part: Part, id: string): Voice =>
  part.score.voices.find((voice) => voice.id === id) as Voice;

const WAYS = [
  { key: null, reach: 12 },
  { key: 'F', reach: 12 },
  { key: 'Ab', reach: 12 },
  { key: 'E', reach: 10 },
] as const;
/** Every hymn as printed and in keys with sharps and flats, for a hand of an octave and one of a seventh. */
const CASES = HYMN_FILES.flatMap((file) => WAYS.map((way) => ({ file, ...way })));

describe('the first rung at the keys, for every hymn', () => {
  it.each(CASES)('$file in $key within $reach half steps', ({ file, key, reach }) => {
    const part = partIn(hymn(file), key, { ...INES, reach });
    const right = voiceOf(part, 'right');
    const left = voiceOf(part, 'left');
    const bars = part.score.bars;

    // Bars are filled exactly, by every voice.
    for (const voice of part.score.voices) {
      let at = 0;
      for (const note of voice.notes) {
        expect(note.at).toBe(at);
        expect(note.length).toBeGreaterThan(0);
        at += note.length;
      }
      expect(at).toBe(endOf(part.score));
    }

    // Each chord change is struck by both hands where it stands; each bar line strikes again.
    for (const { at, length, chord } of part.score.chords) {
      expect(chord).not.toBeNull();
      if (!chord) continue;
      const strikes = [
        at,
        ...bars.map((bar) => bar.at).filter((bar) => bar > at && bar < at + length),
      ];
      for (const strike of strikes) {
        const rightNote = noteAt(right, strike) as Note;
        const leftNote = noteAt(left, strike) as Note;
        expect([rightNote.at, leftNote.at]).toEqual([strike, strike]);
        const classes = pitchClassesOf(chord);
        for (const pitch of rightNote.pitches)
          expect(classes).toContain(pitchClassOf(noteOf(pitch)));
        expect(leftNote.pitches.map(noteOf)).toEqual([chord.bass ?? chord.root]);
      }
    }

    for (const note of right.notes) {
      if (note.pitches.length === 0) continue;
      const keys = note.pitches.map(midiOf);
      expect(keys).toEqual([...keys].sort((a, b) => a - b));
      expect(Math.max(...keys) - Math.min(...keys)).toBeLessThanOrEqual(reach);
      // Room for two thumbs: three half steps at least.
      const below = noteAt(left, note.at)?.pitches ?? [];
      for (const pitch of below)
        expect(Math.min(...keys) - midiOf(pitch)).toBeGreaterThanOrEqual(3);
      if (note.fingers) {
        expect(note.fingers).toHaveLength(keys.length);
        expect(
          note.fingers.every(
            (finger, i) => finger >= 1 && finger <= 5 && finger > (note.fingers?.[i - 1] ?? 0),
          ),
        ).toBe(true);
      }
    }

    // The singers' pickup is theirs alone; in the introduction they rest.
    const introduction = part.score.sections.find(({ id }) => id === INTRODUCTION);
    const sungFrom = introduction?.to ?? 0;
    const pickup = bars.find((bar) => bar.at === sungFrom && bar.number === 0);
    if (pickup) {
      expect(noteAt(right, pickup.at)?.pitches).toEqual([]);
      expect(noteAt(left, pickup.at)?.pitches).toEqual([]);
    }
    const melody = voiceOf(part, 'melody');
    expect(melody.notes.filter(({ at, pitches }) => at < sungFrom && pitches.length > 0)).toEqual(
      [],
    );

    // Every move and picture names chords that are there.
    for (const move of part.moves)
      expect(part.score.chords.some(({ at }) => at === move.at)).toBe(true);
    for (const shape of part.shapes) {
      const chord = part.score.chords.find(({ at }) => at === shape.at)?.chord;
      expect(chord && writeChord(chord)).toBe(writeChord(shape.chord));
      expect(shape.words).not.toBe('');
    }
    expect(part.directions.map(({ section }) => section)).toEqual(
      part.score.sections.map(({ id }) => id),
    );
  });

  it('is valid MusicXML for all of them (W3C schema of MusicXML 4.0)', async () => {
    const files = HYMN_FILES.map((file) => [file, write(partIn(hymn(file), 'Bb').score)] as const);
    expect(await schemaErrors(Object.fromEntries(files))).toEqual([]);
  }, 60_000);

  it('is the same part for the same input', () => {
    const score = hymn('Amazing_Grace-New_Britain.abc');
    expect(partIn(score, 'F')).toEqual(partIn(score, 'F'));
  });
});

describe('what the part says', () => {
  const grace = partIn(hymn('Amazing_Grace-New_Britain.abc'), 'F');

  it('writes the introduction that the file marks before bar 1, from its first bar line', () => {
    // The file marks from the last beat of bar 12 to the end; its bars 13 to 16 begin after that pickup.
    expect(grace.introduction).toMatch(
      /^introduction, as the source marks it: bars 13 to 16; sing after 1 2, on beat 3 of the introduction’s last bar; the singers start on C4, /,
    );
    expect(grace.score.bars.slice(0, 6).map(({ number }) => number)).toEqual([0, 0, 0, 0, 0, 1]);
    expect(grace.score.sections.map(({ kind }) => kind)).toEqual(['intro', 'verse']);
  });

  it('names the singers’ first note by the finger that lies on it', () => {
    const last = grace.score.chords.findLast(({ at }) => at < (grace.score.sections[1]?.from ?? 0));
    expect(last?.chord && say(last.chord)).toBe('F');
    const shape = grace.shapes.find(({ chord }) => say(chord) === 'F');
    expect(shape?.notes).toContain('C4');
    const finger = shape?.fingers[shape.notes.indexOf('C4')];
    expect(grace.introduction).toContain(
      `the note under your ${finger === 1 ? 'thumb' : finger} in F`,
    );
  });

  it('counts in as the song asks, and says how much is new', () => {
    expect(grace.countIn).toBe('count 1 2 3 | (play)');
    const shapes = new Set(grace.shapes.map(({ notes }) => notes.join()));
    const words = ['no', 'one', 'two', 'three', 'four', 'five', 'six', 'seven'];
    expect(grace.summary).toMatch(new RegExp(`^${words[shapes.size]} shapes: `));
  });

  it('proposes the last phrase where nothing is marked, and says that it is a proposal', () => {
    const score = { ...hymn('Amazing_Grace-New_Britain.abc'), introduction: [] };
    expect(partIn(score, 'F').introduction).toMatch(
      /^introduction, the last phrase, a proposal: bars 13 to 16; /,
    );
  });

  it('says other things in another key and another song', () => {
    const other = partIn(hymn('Amazing_Grace-New_Britain.abc'), 'E');
    expect(other.introduction).toContain('B3');
    expect(other.shapes.map(({ chord }) => say(chord))).not.toEqual(
      grace.shapes.map(({ chord }) => say(chord)),
    );
    expect(partIn(hymn('Silent_Night-Stille_Nacht.abc')).summary).not.toBe(grace.summary);
  });

  it('names the widest shape for the hands, and the usual cautions', () => {
    const widths = grace.shapes.map(
      ({ notes }) => midiOf(notes.at(-1) ?? '') - midiOf(notes[0] ?? ''),
    );
    expect(grace.cautions[0]).toContain(`(${Math.max(...widths)} half steps)`);
    expect(grace.cautions.join(' ')).toContain('Stop when something hurts');
  });
});

describe('what cannot be had', () => {
  const score = hymn('Silent_Night-Stille_Nacht.abc');

  it('a part for a role that has none is refused in a sentence, not faked', () => {
    const built = builtIn(score, null, { ...INES, role: 'drums' });
    expect(built.ok).toBe(false);
    if (built.ok) return;
    expect(built.problems[0]?.code).toBe('role-without-part');
    expect(built.problems[0]?.message).toMatch(/drums.* Ines/);
  });

  it('a tune alone has no chords to hold: it asks for them', () => {
    const tune = buildScore({
      key: 'C',
      meter: '4/4',
      title: 'A tune',
      voices: { a: 'C4 D4 E4 F4' },
    });
    const built = builtIn(tune, null);
    expect(built.ok ? [] : built.problems.map(({ code }) => code)).toEqual(['no-chords']);
  });

  it('a hand of six half steps holds two notes of a triad, and one warning says what was left out', () => {
    const built = builtIn(score, null, { ...INES, reach: 6 });
    expect(built.ok).toBe(true);
    if (!built.ok) return;
    expect(built.warnings.map(({ code }) => code)).toEqual(['notes-left-out']);
    // C7 without its fifth lies within six half steps: B♭ C E.
    const sizes = built.value.shapes.map(({ chord, notes }) => [say(chord), notes.length]);
    expect(sizes).toEqual(
      built.value.shapes.map(({ chord }) => [say(chord), chord.kind === 'dominant' ? 3 : 2]),
    );
    expect(built.warnings[0]?.message).toMatch(
      /^A reach of 6 half steps does not hold every chord whole, so Ines leaves notes out: B♭ \(introduction, from bar \d+\) without F; /,
    );
  });

  it('chords written by a person are played, not guessed anew', () => {
    const chord = { root: 'C', kind: 'major', degrees: [], bass: null } as const;
    const tune = buildScore({
      key: 'C',
      meter: '4/4',
      voices: { a: 'C4 D4 E4 F4 G4:4' },
      chords: [
        [0, chord],
        [4, { ...chord, root: 'G', bass: 'B' }],
      ],
    });
    const part = partIn(tune, writeKey({ tonic: 'D', mode: 'major' }));
    const sung = part.score.chords.filter(
      ({ at }) => at >= (part.score.sections.at(-1)?.from ?? 0),
    );
    expect(sung.map((each) => each.chord && writeChord(each.chord))).toEqual(['D', 'A/C#']);
  });
});

describe('where the others do not hold', () => {
  const GRACE = hymn('Amazing_Grace-New_Britain.abc');
  const linesWith = (textures: readonly Texture[], score = GRACE): string[][] => {
    const form = score.form.map((pass, i) => ({ ...pass, texture: textures[i] ?? 'held' }));
    const built = builtIn(score, null, INES, { form });
    if (!built.ok) throw new Error(JSON.stringify(built.problems));
    return built.value.directions.map(({ words }) => words.filter((line) => /others/.test(line)));
  };

  it('the passes are named, and that the first rung holds all the same', () => {
    expect(linesWith(['held', 'leading', 'held', 'every beat'])).toEqual([
      [],
      [
        'verse 2: the others strike again on the last beat; you hold',
        'verse 4: the others play on every beat; you hold',
      ],
    ]);
  });

  it('the introduction is played like the first pass', () => {
    expect(linesWith(['every beat'])).toEqual([
      ['the others play on every beat; you hold'],
      ['verse 1: the others play on every beat; you hold'],
    ]);
  });

  it('nothing is said where all is held', () => {
    expect(linesWith([])).toEqual([[], []]);
  });
});
