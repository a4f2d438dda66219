import { describe, expect, it } from 'vitest';
import { between } from '../../hand/motion.ts';
import type { Shape } from '../../hand/shape.ts';
import { read } from '../../pitch/chord-symbol.ts';
import type { Chord } from '../../pitch/chord.ts';
import { midiOf } from '../../pitch/pitch.ts';
import { leastMotion, type VoicedChord } from './right-voiced-line.ts';
import { voicingsOf, type Voicing } from './right-voicings.ts';

const chord = (symbol: string): Chord => {
  const found = read(symbol);
  if (!found.ok) throw new Error(symbol);
  return found.value;
};

describe('voicings of the upper rungs', () => {
  const under = (
    symbol: string,
    { voicing, sung, top = sung }: { voicing: Voicing; sung: string; top?: string },
  ) =>
    voicingsOf(chord(symbol), { voicing, sung, reach: 12 })
      .filter(({ notes }) => notes.at(-1) === top)
      .map(({ notes, fingers }) => ({ notes: notes.join(' '), fingers: fingers.join(' ') }));

  it('double the tune an octave below, fingers by the tables of 1900, and offer it in every octave', () => {
    for (const voicing of ['open', 'full'] as const) {
      const [first, ...others] = under('C', { voicing, sung: 'C5' });
      expect(first).toEqual({ notes: 'C4 E4 G4 C5', fingers: '1 2 3 5' });
      expect(others).toEqual([]);
      expect(under('F', { voicing, sung: 'C4', top: 'C5' })[0]?.notes).toBe('C4 F4 A4 C5');
    }
    // Where three notes have no room below the tune it can only be had an octave up.
    const tops = voicingsOf(chord('F'), { voicing: 'full', sung: 'C4', reach: 12 });
    expect(tops.map(({ notes }) => notes.join(' '))).toEqual(['C4 F4 A4 C5']);
  });

  it('have three different notes at least; open ones leave the fifth out of four tones alone (common practice)', () => {
    const notes = (...asked: Parameters<typeof under>) => under(...asked).map((each) => each.notes);
    expect(notes('C', { voicing: 'open', sung: 'E5' })).toEqual(['E4 G4 C5 E5']);
    expect(notes('C/E', { voicing: 'open', sung: 'E5' })).toEqual(['E4 G4 C5 E5']);
    expect(notes('G7', { voicing: 'open', sung: 'F5' })).toEqual(['F4 G4 B4 F5']);
    expect(notes('G7', { voicing: 'full', sung: 'F5' })).toEqual(['G4 B4 D5 F5']);
    expect(notes('G7', { voicing: 'open', sung: 'D5' })).toEqual(['F4 G4 B4 D5']);
    expect(notes('G7', { voicing: 'closed', sung: 'F5' })).toEqual(['G4 B4 F5']);
    expect(notes('F', { voicing: 'full', sung: 'F4' })).toEqual(['A3 C4 F4']);
  });

  it('are under each top the best of all sets of up to four keys (every set tried)', () => {
    const [low, high] = [midiOf('G3'), midiOf('A5')];
    const all = Array.from({ length: high - low + 1 }, (_, i) => low + i);
    const sets: number[][] = [];
    const grow = (keys: number[], from: number): void => {
      if (keys.length > 0) sets.push(keys);
      const within = keys[0] === undefined ? high : Math.min(high, keys[0] + 14);
      if (keys.length < 4)
        for (let key = from; key <= within; key++) if (all.includes(key)) grow([...keys, key], key + 1); // prettier-ignore
    };
    grow([], low);
    // In words: chord tones, none twice but the outer two of an octave; first the three tones that make the chord, then the
    // tune on top in any octave; then for each top by itself the tones it should have, an octave at most, none beside
    // them, and as many notes as it should have.
    const cases = [
      ['C', [0, 4, 7], [0, 4, 7], 'E5', 12],
      ['C', [0, 4, 7], [0, 4, 7], 'C4', 12],
      ['Am', [9, 0, 4], [9, 0, 4], 'A4', 9],
      ['G7', [7, 11, 2, 5], [7, 11, 5], 'D5', 12],
      ['G7', [7, 11, 2, 5], [7, 11, 5], 'F4', 12],
      ['G7', [7, 11, 2, 5], [7, 11, 5], null, 11],
      ['F', [5, 9, 0], [5, 9, 0], 'B4', 14],
    ] as const;
    for (const [symbol, tones, needed, sung, reach] of cases)
      for (const voicing of ['closed', 'open', 'full'] as const) {
        const tune = sung === null ? null : midiOf(sung) % 12;
        const owed = tones.filter(
          (tone) => voicing === 'full' || needed.some((each) => each === tone) || tone === tune,
        );
        const ranked = sets.flatMap((keys) => {
          const classes = keys.map((key) => key % 12);
          const top = keys.at(-1) ?? 0;
          const span = top - (keys[0] ?? 0);
          const doubled = classes.length - new Set(classes).size;
          const isOctave = classes.at(-1) === classes[0] && span === 12;
          const isAllowed = classes.every((each) => tones.some((tone) => tone === each));
          if (!isAllowed || span > reach || doubled > (isOctave ? 1 : 0)) return [];
          const lacks = (wanted: readonly number[]) =>
            wanted.filter((tone) => !classes.includes(tone)).length;
          const size = voicing === 'closed' ? owed.length : 4;
          const beside = classes.filter((each) => !owed.some((tone) => tone === each)).length;
          const own = [lacks(owed), Math.max(0, span - 12), beside, Math.abs(size - keys.length)];
          const whole = [lacks(needed), tune === null || top % 12 === tune ? 0 : 1];
          const said = (rank: number[]) => rank.map((n) => String(n).padStart(2)).join();
          return [{ keys: keys.join(' '), top, whole: said(whole), own: said(own) }];
        });
        const first = ranked.map(({ whole }) => whole).sort()[0];
        const able = ranked.filter(({ whole }) => whole === first);
        const best = able.filter((each) =>
          able.every((other) => other.top !== each.top || other.own >= each.own),
        );
        const found = voicingsOf(chord(symbol), { voicing, sung, reach });
        expect(
          found.map(({ notes }) => notes.map(midiOf).join(' ')).sort(),
          `${symbol} ${voicing}`,
        ).toEqual(best.map(({ keys }) => keys).sort());
      }
  });

  it('never go beyond a small hand', () => {
    for (const reach of [7, 8, 9, 10, 11, 12, 14])
      for (const symbol of ['C', 'F#m', 'Bb7', 'Dm7', 'Gsus4', 'Bdim', 'Cmaj9', 'E5'])
        for (const voicing of ['closed', 'open', 'full'] as const)
          for (const sung of [null, 'C5', 'F#4', 'Bb5', 'D4']) {
            const shapes = voicingsOf(chord(symbol), { voicing, sung, reach });
            expect(shapes.length, symbol).toBeGreaterThan(0);
            for (const { notes } of shapes) {
              const keys = notes.map(midiOf);
              expect((keys.at(-1) ?? 0) - (keys[0] ?? 0)).toBeLessThanOrEqual(reach);
            }
          }
  });
});

describe('the way through voicings', () => {
  /** Numbers in a row that look like chance and are the same each time. */
  function rolls(seed: number): () => number {
    let state = seed;
    return () => (state = (state * 48271) % 2147483647) / 2147483647;
  }

  const SYMBOLS = ['C', 'Dm7', 'F', 'G7', 'Am', 'Bb', 'E7'];
  const TUNE = [null, 'C4', 'F4', 'A4', 'C5', 'E5', 'G5', 'C6'];
  const VOICINGS = ['closed', 'open', 'full'] as const;
  const topOf = ({ notes }: Shape) => midiOf(notes.at(-1) ?? 'C4');

  /** The ranks of `leastMotion` in words: leaps, changes of octave, low and high tops, octaves away, motion, middle. */
  function rankOf(chords: readonly VoicedChord[], way: readonly Shape[]): number[] {
    const sum = (all: readonly number[]) => all.reduce((a, b) => a + b, 0);
    const tops = way.map(topOf);
    const leaps = tops.filter((top, i) => {
      const before = tops[i - 1];
      return before !== undefined && !chords[i]?.begins && Math.abs(before - top) > 12;
    }).length;
    // A chord without the tune on top can be in any octave: every one is tried.
    const octaves = chords.map(({ sung }, i): number[] => {
      const up = sung === null ? 0.5 : ((tops[i] ?? 0) - midiOf(sung)) / 12;
      return Number.isInteger(up) ? [up] : [0, 1, -1, 2, -2];
    });
    const lines = octaves.reduce<number[][]>(
      (all, choices) => all.flatMap((line) => choices.map((each) => [...line, each])),
      [[]],
    );
    const [changes = 0, away = 0] = lines
      .map((line) => [
        line.filter((up, i) => i > 0 && chords[i - 1]?.phrase === chords[i]?.phrase && line[i - 1] !== up).length, // prettier-ignore
        sum(line.map(Math.abs)),
      ])
      .reduce((a, b) => (compared(b, a) < 0 ? b : a));
    const middle = midiOf('G3') + midiOf('G5');
    return [
      leaps,
      changes,
      tops.filter((top) => top <= midiOf('F4') || top > midiOf('G5')).length,
      away,
      sum(way.slice(1).map((to, i) => between(way[i]?.notes ?? [], to.notes).total)),
      sum(way.map((shape) => Math.abs(midiOf(shape.notes[0] ?? 'C4') + topOf(shape) - middle))),
    ];
  }

  const compared = (a: readonly number[], b: readonly number[]): number => {
    const at = a.findIndex((each, i) => each !== b[i]);
    return at < 0 ? 0 : (a[at] ?? 0) - (b[at] ?? 0);
  };

  it('is the best of all ways (every way tried)', () => {
    for (let seed = 1; seed <= 60; seed++) {
      const roll = rolls(seed * 7919);
      const pick = <T>(all: readonly T[]): T => all[Math.floor(roll() * all.length)] as T;
      let phrase = 0;
      const chords = Array.from({ length: 4 }, (_, i): VoicedChord => {
        const isNew = roll() < 0.4;
        if (isNew) phrase += 1;
        const sung = pick(TUNE);
        const all = voicingsOf(chord(pick(SYMBOLS)), { voicing: pick(VOICINGS), sung, reach: 12 });
        // Of the many without a tune on top a few, so that every way can be tried.
        const shapes = all.length > 5 ? all.filter((__, n) => n % 4 === i) : all;
        return { shapes, sung, phrase, begins: isNew && roll() < 0.7 };
      });
      const ways = chords.reduce<Shape[][]>(
        (all, { shapes }) => all.flatMap((way) => shapes.map((shape) => [...way, shape])),
        [[]],
      );
      const best = ways.map((way) => rankOf(chords, way)).reduce((a, b) => (compared(b, a) < 0 ? b : a)); // prettier-ignore
      expect(rankOf(chords, leastMotion(chords)), `seed ${seed}`).toEqual(best);
    }
  });

  const tuned = (phrase: number, ...chords: (readonly [string, string])[]) =>
    chords.map(([symbol, sung], i): VoicedChord => ({
      shapes: voicingsOf(chord(symbol), { voicing: 'full', sung, reach: 12 }),
      sung,
      phrase,
      begins: i === 0,
    }));
  const notesOf = (chords: readonly VoicedChord[]) =>
    leastMotion(chords).map(({ notes }) => notes.join(' '));

  it('takes a low phrase up an octave as a whole, and no other (common practice)', () => {
    const low = tuned(0, ['F', 'F4'], ['C7', 'G4'], ['Bb', 'D4'], ['F', 'C4']);
    const high = tuned(1, ['F', 'A4'], ['C', 'G4'], ['F', 'C5']);
    expect(notesOf([...low, ...high])).toEqual([
      'F4 A4 C5 F5',
      'Bb4 C5 E5 G5',
      'D4 F4 Bb4 D5',
      'C4 F4 A4 C5',
      'A3 C4 F4 A4',
      'G3 C4 E4 G4',
      'C4 F4 A4 C5',
    ]);
  });
});
