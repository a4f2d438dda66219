import { ChordSymbol, QUARTER, type Chord } from '#music';
import { buildScore } from '#test/support/score-builder.ts';
import { describe, expect, it } from 'vitest';
import { chordPitches, playedFrom, type Tone } from './edit-tones.ts';

function chord(symbol: string): Chord {
  const read = ChordSymbol.read(symbol);
  if (!read.ok) throw new Error(symbol);
  return read.value;
}

const told = (tones: readonly Tone[]): string[] =>
  tones.map(({ pitch, from, to }) => `${pitch} ${from}-${to}`);

/** 60 quarters a minute: a quarter lasts one second. */
const line = { key: 'C', meter: '4/4', tempo: 60 } as const;

describe('What sounds from the cursor on', () => {
  it('is each note for its time, tied ones as one, rests as silence', () => {
    const score = buildScore({ ...line, voices: { tune: 'C4 r:1 E4:2~ | E4:4' } });
    const played = playedFrom(score, 0);
    expect(told(played.tones)).toEqual(['C4 0-1', 'E4 2-8']);
    expect(played.length).toBe(8);
  });

  it('begins in the middle of a note that is held there', () => {
    const score = buildScore({ ...line, voices: { tune: 'C4:4 | D4:4' } });
    expect(told(playedFrom(score, 3 * QUARTER).tones)).toEqual(['C4 0-1', 'D4 1-5']);
  });

  it('is every voice, and then no chords besides', () => {
    const score = buildScore({
      ...line,
      voices: { tune: 'E4:4', low: 'C3:2 G3:2' },
      chords: [[0, chord('C')]],
    });
    expect(told(playedFrom(score, 0).tones)).toEqual(['E4 0-4', 'C3 0-2', 'G3 2-4']);
  });

  it('is the tune with the chords that are written, softer, each from its own beat', () => {
    const score = buildScore({
      ...line,
      voices: { tune: 'A4:4' },
      chords: [
        [0, chord('Am')],
        [2, chord('D7')],
      ],
    });
    const { tones } = playedFrom(score, 0);
    expect(told(tones)).toEqual([
      'A4 0-4',
      ...['A3 0-2', 'C4 0-2', 'E4 0-2'],
      ...['D3 2-4', 'F#3 2-4', 'A3 2-4', 'C4 2-4'],
    ]);
    expect(Math.min(...tones.map(({ level }) => level))).toBeLessThan(tones[0]?.level ?? 0);
  });

  it('goes by the tempo, and by its changes', () => {
    const score = buildScore({ ...line, voices: { tune: 'C4:4 | D4:4' } });
    const tempoChanges = [{ at: 4 * QUARTER, tempo: { beat: QUARTER, perMinute: 120 } }];
    expect(told(playedFrom({ ...score, tempoChanges }, 0).tones)).toEqual(['C4 0-4', 'D4 4-6']);
  });

  it('takes the cursor along, half beat by half beat', () => {
    const score = buildScore({ ...line, voices: { tune: 'C4:4' } });
    const { steps } = playedFrom(score, 3 * QUARTER);
    expect(steps).toEqual([
      { from: 0, at: 3 * QUARTER },
      { from: 0.5, at: 3.5 * QUARTER },
    ]);
  });

  it('spells a chord upwards from its root', () => {
    // C flat 4 sounds as B3: octaves are counted by the letter.
    expect(chordPitches(chord('Bb7'))).toEqual(['Bb3', 'D4', 'F4', 'Ab4']);
    expect(chordPitches(chord('Cbmaj7'))).toEqual(['Cb4', 'Eb4', 'Gb4', 'Bb4']);
  });
});
