import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { buildScore } from '#test/support/score-builder.ts';
import * as ChordSymbol from '../pitch/chord-symbol.ts';
import type { Chord } from '../pitch/chord.ts';
import { intervalBetween } from '../pitch/interval.ts';
import * as Keys from '../pitch/key.ts';
import { midiOf } from '../pitch/pitch.ts';
import * as KeyFinding from './key-finding.ts';
import type { Score } from './score.ts';
import { saySentence, type Sentence } from './sentence.ts';
import * as Transpose from './transpose.ts';

function key(text: string): Keys.Key {
  const read = Keys.readKey(text);
  if (!read) throw new Error(text);
  return read;
}

function chord(text: string): Chord {
  const read = ChordSymbol.read(text);
  if (!read.ok) throw new Error(text);
  return read.value;
}

const source = buildScore({
  key: 'G major',
  meter: '3/4',
  voices: { tune: 'D4:1 | G4:2 B4+D5:1 | F#4:2~ F#4:1', bass: 'r:1 | G2:3 | D3:3' },
  keyChanges: [[4, 'E minor']],
  chords: [
    [1, chord('G')],
    [4, chord('D7/F#')],
  ],
});

function pitches(score: Score): string[] {
  return score.voices.flatMap((voice) => voice.notes.flatMap((note) => note.pitches));
}

function chords(score: Score): string[] {
  return score.chords.map((at) => (at.chord ? ChordSymbol.write(at.chord) : 'N.C.'));
}

describe('The distance between two keys', () => {
  it.each([
    ['G', 'F', 'nearest', -1, -2],
    ['G', 'F', 'up', 6, 10],
    ['G', 'A', 'down', -6, -10],
    ['C', 'F#', 'nearest', 3, 6],
    ['F#', 'C', 'nearest', -3, -6],
    ['C', 'Gb', 'nearest', -3, -6],
    ['C', 'Gb', 'up', 4, 6],
    ['C', 'Ab', 'nearest', -2, -4],
    ['B', 'C', 'nearest', 1, 1],
    ['C', 'Cb', 'nearest', 0, -1],
    ['C', 'Cb', 'up', 7, 11],
    ['C#', 'Db', 'nearest', 1, 0],
    ['D', 'D', 'up', 0, 0],
  ] as const)('from %s to %s, %s', (from, to, direction, steps, semitones) => {
    expect(Transpose.interval(key(from), key(to), direction)).toEqual({ steps, semitones });
  });
});

describe('A song in another key', () => {
  it('moves every note, chord, bass, key and signature', () => {
    const inEb = Transpose.score(source, key('Eb'));
    expect(pitches(inEb)).toEqual(['Bb3', 'Eb4', 'G4', 'Bb4', 'D4', 'D4', 'Eb2', 'Bb2']);
    expect(chords(inEb)).toEqual(['Eb', 'Bb7/D']);
    expect(inEb.keys.map((each) => [Keys.writeKey(each.key), each.signature])).toEqual([
      ['Eb major', -3],
      ['C minor', -3],
    ]);
    expect(inEb.bars).toBe(source.bars);
    expect(inEb.sections).toBe(source.sections);
  });

  it('keeps a signature that is not the key’s own: a minor tune under a Dorian signature', () => {
    const dorian = buildScore({
      key: 'E minor',
      signature: 2,
      meter: '4/4',
      voices: { tune: 'E4:4' },
    });
    const moved = Transpose.score(dorian, key('D minor'));
    expect(moved.keys[0]).toMatchObject({ key: { tonic: 'D', mode: 'minor' }, signature: 0 });
  });

  it('moves grace notes and keeps everything else of a note', () => {
    const [voice] = source.voices;
    if (!voice) throw new Error('no voice');
    const graced: Score = {
      ...source,
      voices: [
        {
          ...voice,
          notes: voice.notes.map((note) => ({ ...note, grace: ['C#5'], fermata: true as const })),
        },
      ],
    };
    const note = Transpose.score(graced, key('A')).voices[0]?.notes[0];
    expect(note).toEqual({ ...graced.voices[0]?.notes[0], pitches: ['E4'], grace: ['D#5'] });
  });

  it('spells a stretch enharmonically that would need more than seven accidentals, and that alone', () => {
    const lifted = buildScore({
      key: 'C major',
      meter: '4/4',
      voices: { tune: 'C4:4 | E4:2 G#4:2~ | G#4:4' },
      keyChanges: [[4, 'E major']],
      chords: [
        [0, chord('C')],
        [4, chord('E/G#')],
      ],
    });
    const inB = Transpose.score(lifted, key('B'), { direction: 'down' });
    expect(inB.keys.map((each) => [Keys.writeKey(each.key), each.signature])).toEqual([
      ['B major', 5],
      ['Eb major', -3],
    ]);
    expect(pitches(inB)).toEqual(['B3', 'Eb4', 'G4', 'G4']);
    expect(chords(inB)).toEqual(['B', 'Eb/G']);
    expect(Keys.writeKey(Transpose.score(source, key('G# major')).keys[0]?.key ?? key('C'))).toBe(
      'Ab major',
    );
  });

  it('keeps the name of a note that is held into such a stretch', () => {
    const held = buildScore({
      key: 'C major',
      meter: '4/4',
      voices: { tune: 'E4:4~ | E4:2 G#4:2' },
      keyChanges: [[4, 'E major']],
    });
    expect(pitches(Transpose.score(held, key('B')))).toEqual(['D#4', 'D#4', 'G4']);
  });

  it('says its reasons again in the new key', () => {
    const sentence: Sentence = [
      'bar 1: ',
      { pitch: 'F#4' },
      ' over ',
      { note: 'D' },
      ' makes ',
      { chord: chord('D7/F#') },
      ' in ',
      { key: key('G') },
    ];
    const guessed: Score = {
      ...source,
      chords: source.chords.map((at) => ({
        ...at,
        guess: { reason: saySentence(sentence), sentence, others: [chord('F#dim/D')] },
      })),
      keys: source.keys.map((each) => ({ ...each, reason: 'ends on G', others: [key('E minor')] })),
    };
    const moved = Transpose.score(guessed, key('Eb'));
    expect(moved.chords[0]?.guess?.reason).toBe('bar 1: D4 over B♭ makes B♭7/D in E♭ major');
    expect(moved.chords[0]?.guess?.others.map(ChordSymbol.write)).toEqual(['Ddim/Bb']);
    expect(moved.keys[0]?.reason).toBe('In G major: ends on G');
    expect(moved.keys[0]?.others).toEqual([key('C minor')]);
    expect(Transpose.score(moved, key('G'))).toEqual(guessed);
  });

  it('says anew why a key was found, in notes of the new key', () => {
    const found = KeyFinding.findAll(source.voices, [{ at: 0, signature: 1 }]);
    // It ends on a half close: the key of its signature stands first.
    expect(found[0]?.key).toEqual(key('G'));
    const moved = Transpose.score({ ...source, keys: found }, key('F'));
    expect(moved.keys).toEqual(KeyFinding.findAll(moved.voices, [{ at: 0, signature: -1 }]));
    const decided = KeyFinding.answer({ ...source, keys: found }, key('E minor'));
    expect(Transpose.score(decided, key('C minor')).keys[0]?.reason).toBe(
      'C minor: decided by a person.',
    );
  });

  const offered = fc.constantFrom(...Keys.keysToOffer('major'));
  const letters = fc.constantFrom(...'CDEFGAB'.split(''));
  const tune = fc.array(
    fc
      .tuple(letters, fc.constantFrom('', '#', 'b'), fc.integer({ min: 2, max: 5 }))
      .map((parts) => parts.join('')),
    { minLength: 2, maxLength: 8 },
  );
  const anySong = fc.record({ home: offered, tune }).map(({ home, tune: notes }) =>
    buildScore({
      key: Keys.writeKey(home),
      meter: `${notes.length}/4`,
      voices: { tune: notes.join(' ') },
      chords: [[0, chord(`${home.tonic}maj7`)]],
    }),
  );

  it('comes back as it was', () => {
    fc.assert(
      fc.property(anySong, offered, (any, to) => {
        const home = any.keys[0]?.key ?? to;
        for (const [there, back] of [
          ['nearest', 'nearest'],
          ['up', 'down'],
          ['down', 'up'],
        ] as const) {
          const away = Transpose.score(any, to, { direction: there });
          // Triple accidentals are respelled and do not come back by letter.
          fc.pre(pitches(away).every((name) => !/#{3}|b{3}/.test(name)));
          expect(Transpose.score(away, home, { direction: back })).toEqual(any);
        }
      }),
      { numRuns: 500, seed: 11 },
    );
  });

  it('moves every note by as many semitones, and keeps every interval inside it', () => {
    fc.assert(
      fc.property(anySong, offered, (any, to) => {
        const moved = Transpose.score(any, to);
        const [before, after] = [pitches(any), pitches(moved)];
        const shifts = new Set(before.map((name, i) => midiOf(after[i] ?? '') - midiOf(name)));
        expect(shifts.size).toBe(1);
        expect(Math.abs([...shifts][0] ?? 99)).toBeLessThanOrEqual(6);
        const inside = (names: string[]) =>
          names.slice(1).map((name, i) => intervalBetween(names[i] ?? name, name));
        expect(inside(after)).toEqual(inside(before));
      }),
      { numRuns: 500, seed: 12 },
    );
  });
});

describe('what a person gave of a tune that is not written', () => {
  const bare = buildScore({ key: 'G', meter: '4/4', voices: { tune: 'r:4' } });
  const compass = { low: 'A3', high: 'D5', mostly: { low: 'D4', high: 'B4' } };

  it('moves with the song and is spelled by it', () => {
    const moved = Transpose.score({ ...bare, compass }, { tonic: 'Eb', mode: 'major' });
    expect(moved.compass).toEqual({ low: 'F3', high: 'Bb4', mostly: { low: 'Bb3', high: 'G4' } });
    expect(Transpose.score(moved, { tonic: 'G', mode: 'major' }).compass).toEqual(compass);
    const ends = { ...bare, compass: { ...compass, mostly: null } };
    expect(Transpose.by(ends, { steps: 7, semitones: 12 }).compass).toEqual({ low: 'A4', high: 'D6', mostly: null }); // prettier-ignore
    expect(Transpose.score(bare, { tonic: 'A', mode: 'major' })).not.toHaveProperty('compass');
  });
});
