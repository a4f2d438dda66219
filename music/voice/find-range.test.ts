import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { midiOf } from '../pitch/pitch.ts';
import { CHILDREN } from './children.ts';
import {
  anOctave,
  answer,
  back,
  begin,
  stageOf,
  VOICE_KINDS,
  withinOf,
  type RangeSearch,
  type VoiceKind,
} from './find-range.ts';
import { read, span } from './range.ts';

/** Someone to whom these notes are easy, and no others. Half steps, C4 = 60. */
interface Voice {
  readonly low: number;
  readonly high: number;
}

/** More than any search may ask: the widest has 30 half steps, every second of them asked, and both ends twice. */
const MOST = 24;
const MOST_OF_CHILDREN = 12;

function sing(search: RangeSearch, { low, high }: Voice): { asked: number[]; end: RangeSearch } {
  const asked: number[] = [];
  let now = search;
  for (;;) {
    const stage = stageOf(now);
    if (stage.stage === 'none' || stage.stage === 'found' || asked.length > 100)
      return { asked, end: now };
    const midi = midiOf(stage.note);
    asked.push(midi);
    const isEasy = midi >= low && midi <= high;
    const beside = midi < low ? 'too low' : 'too high';
    now = answer(now, isEasy ? 'easy' : stage.stage === 'first' ? beside : 'hard');
  }
}

const someVoice = fc
  .tuple(fc.integer({ min: 30, max: 90 }), fc.integer({ min: 0, max: 40 }))
  .map(([low, wide]) => ({ low, high: low + wide }));
const someKind = fc.constantFrom(...VOICE_KINDS);
const voiceOf = (low: string, high: string): Voice => ({ low: midiOf(low), high: midiOf(high) });
const rangeOf = (kind: VoiceKind, voice: Voice) => stageOf(sing(begin(kind), voice).end);

describe('Finding a range', () => {
  it.each([
    ['a bass', 'lower', 'G2', 'C4'],
    ['a baritone', 'lower', 'A2', 'E4'],
    ['a tenor', 'middle', 'C3', 'F4'],
    ['a contralto', 'middle', 'G3', 'C5'],
    ['a soprano', 'higher', 'C4', 'F5'],
    // The `safe` ranges of a choir (Haskell library hmt 0.20, as in the trade notes); the baritone is musicnotes.com's, shortened.
  ] as const)('finds that of %s to the half step', (_, kind, low, high) => {
    expect(rangeOf(kind, voiceOf(low, high))).toEqual({
      stage: 'found',
      range: { low, high },
      ends: {
        low: low === 'C3' ? 'not asked beyond' : 'hard beyond',
        high: 'hard beyond',
      },
    });
  });

  it('begins in the middle, goes down in whole steps, then up from the middle', () => {
    const { asked } = sing(begin('lower'), voiceOf('B2', 'F3'));
    //             D3  C3  Bb2 B2  E3  F#3 F3
    expect(asked).toEqual([50, 48, 46, 47, 52, 54, 53]);
  });

  it('asks a child in whole steps alone, within what is written of younger school children', () => {
    const { asked, end } = sing(begin('child'), voiceOf('A3', 'C6'));
    expect(asked).toEqual([65, 63, 61, 60, 67, 69, 71, 73, 75, 77]);
    const guideline = CHILDREN.find(({ id }) => id === 'younger-school')?.range;
    expect(stageOf(end)).toEqual({
      stage: 'found',
      range: guideline,
      ends: { low: 'not asked beyond', high: 'not asked beyond' },
    });
    expect(withinOf(begin('child'))).toEqual(guideline);
    expect(sing(begin('child'), voiceOf('E4', 'A4')).asked).toEqual([65, 63, 67, 69, 71]);
  });

  it('takes another first note where that one is too low or too high', () => {
    const { asked, end } = sing(begin('middle'), voiceOf('D4', 'G4'));
    expect(asked.slice(0, 4)).toEqual([57, 61, 65, 63]);
    expect(stageOf(end)).toMatchObject({ range: { low: 'D4', high: 'G4' } });
  });

  it('ends without a range where no note is easy', () => {
    expect(rangeOf('middle', { low: 20, high: 21 })).toEqual({ stage: 'none' });
    expect(rangeOf('child', { low: 90, high: 91 })).toEqual({ stage: 'none' });
  });

  it('looks an octave lower for who sings there, and no two octaves away', () => {
    const lower = anOctave(begin('higher'), -1);
    expect(stageOf(lower)).toMatchObject({ stage: 'first', note: 'F3' });
    expect(withinOf(lower)).toEqual({ low: 'F2', high: 'A4' });
    expect(anOctave(lower, -1)).toBe(lower);
    expect(anOctave(lower, 1)).toEqual(begin('higher'));
  });

  it('throws at an answer that does not fit, as only a slip of the program gives one', () => {
    expect(() => answer(begin('lower'), 'hard')).toThrow(RangeError);
    const second = answer(begin('lower'), 'easy');
    expect(() => answer(second, 'too low')).toThrow(RangeError);
    const { end } = sing(begin('lower'), voiceOf('A2', 'C4'));
    expect(() => answer(end, 'easy')).toThrow(RangeError);
  });
});

describe('Whoever sings and whatever they answer', () => {
  it('it ends within two dozen notes, a child’s within a dozen', () => {
    fc.assert(
      fc.property(someKind, someVoice, (kind, voice) => {
        const { asked } = sing(begin(kind), voice);
        expect(asked.length).toBeLessThanOrEqual(kind === 'child' ? MOST_OF_CHILDREN : MOST);
      }),
    );
  });

  it('no note is asked twice, none that was hard or lies beyond one, none beyond the bounds', () => {
    fc.assert(
      fc.property(someKind, someVoice, (kind, voice) => {
        const { asked } = sing(begin(kind), voice);
        expect(new Set(asked).size).toBe(asked.length);
        const { low, high } = withinOf(begin(kind));
        let [below, above] = [midiOf(low) - 1, midiOf(high) + 1];
        for (const midi of asked) {
          expect(midi).toBeGreaterThan(below);
          expect(midi).toBeLessThan(above);
          if (midi < voice.low) below = midi;
          if (midi > voice.high) above = midi;
        }
      }),
    );
  });

  it('no step outwards is wider than a whole step', () => {
    fc.assert(
      fc.property(someKind, someVoice, (kind, voice) => {
        let search = begin(kind);
        for (;;) {
          const stage = stageOf(search);
          if (stage.stage === 'found' || stage.stage === 'none') return;
          const midi = midiOf(stage.note);
          if (stage.easy) {
            const from = midiOf(stage.stage === 'down' ? stage.easy.low : stage.easy.high);
            expect(Math.abs(midi - from)).toBeLessThanOrEqual(2);
          }
          const isEasy = midi >= voice.low && midi <= voice.high;
          const beside = midi < voice.low ? 'too low' : 'too high';
          search = answer(search, isEasy ? 'easy' : stage.stage === 'first' ? beside : 'hard');
        }
      }),
    );
  });

  it('the range is valid, lies within what was sung, and is exact between the bounds for grown voices', () => {
    fc.assert(
      fc.property(someKind, someVoice, (kind, voice) => {
        const { asked, end } = sing(begin(kind), voice);
        const stage = stageOf(end);
        const easy = asked.filter((midi) => midi >= voice.low && midi <= voice.high);
        if (stage.stage !== 'found') {
          expect(easy).toEqual([]);
          return;
        }
        const { low, high } = stage.range;
        expect(read(low, high)).toMatchObject({ ok: true });
        expect(span(stage.range)).toBeGreaterThanOrEqual(0);
        expect([midiOf(low), midiOf(high)]).toEqual([Math.min(...easy), Math.max(...easy)]);
        const within = withinOf(begin(kind));
        const exact = [
          Math.max(voice.low, midiOf(within.low)),
          Math.min(voice.high, midiOf(within.high)),
        ];
        if (kind !== 'child') expect([midiOf(low), midiOf(high)]).toEqual(exact);
      }),
    );
  });

  it('a step back leads to what was asked before, all the way to the first note', () => {
    fc.assert(
      fc.property(someKind, someVoice, (kind, voice) => {
        const { asked, end } = sing(begin(kind), voice);
        let search = end;
        for (const midi of asked.toReversed()) {
          search = back(search);
          expect(stageOf(search)).toMatchObject({ note: expect.any(String) as string });
          const { note } = stageOf(search) as { note: string };
          expect(midiOf(note)).toBe(midi);
        }
        expect(search).toEqual(begin(kind));
        expect(back(search)).toEqual(search);
      }),
    );
  });
});
