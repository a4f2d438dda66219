import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { Harmony, Pitches, Time, type Score, type Singer } from '#music';
import { arranged } from '../../music/parts/arranged.ts';
import { hymn } from '#test/support/hymn.ts';
import { HYMN_FILES } from '#test/support/hymns.ts';

const ALTO: Singer = { id: 'a', name: 'Ines', comfortable: { low: 'G3', high: 'C5' } };
const TENOR: Singer = { id: 't', name: 'Tomas', comfortable: { low: 'C3', high: 'F4' } };

/** The hymn with the chords of its voices, in its own key. */
function withChords(file: string): Score {
  const score = hymn(file);
  const key = score.keys[0]?.key;
  if (!key) throw new Error('a hymn has a key');
  return arranged(score, { key, tempo: null, density: 'half bar', form: null });
}

function lineOf(score: Score, singer: Singer, options: Harmony.HarmonyOptions = {}) {
  const found = Harmony.line(score, singer, options);
  if (!found.ok) throw new Error(JSON.stringify(found.problems));
  return found.value;
}

const midi = Pitches.midiOf;
const tuneAt = (score: Score, at: number) =>
  midi(Time.noteAt(Time.melodyOf(score), at)?.pitches.at(-1) ?? '');

/** Share of the time that two lines are a third or sixth apart, octaves between them left out of account. */
function sweetness(pairs: readonly { readonly apart: number; readonly length: number }[]): number {
  const all = pairs.reduce((sum, { length }) => sum + length, 0);
  const sweet = pairs.filter(({ apart }) => [3, 4, 8, 9].includes(((apart % 12) + 12) % 12));
  return sweet.reduce((sum, { length }) => sum + length, 0) / all;
}

describe.each(HYMN_FILES)('A second voice to %s', (file) => {
  const score = withChords(file);

  it.each([ALTO, TENOR])('stays on its side of the tune, in the range of $name', (singer) => {
    const { notes, side } = lineOf(score, singer);
    const { low, high } = singer.comfortable;
    for (const { at, pitch } of notes) {
      const apart = midi(pitch) - tuneAt(score, at);
      if (side === 'below') expect(apart).toBeLessThanOrEqual(0);
      else expect(apart).toBeGreaterThanOrEqual(0);
      expect(midi(pitch)).toBeGreaterThanOrEqual(midi(low));
      expect(midi(pitch)).toBeLessThanOrEqual(midi(high));
    }
  });

  it('never rubs a half step against the tune, and never leaps more than a fifth', () => {
    const { notes } = lineOf(score, ALTO);
    const inSection = (at: number) =>
      score.sections.findIndex(({ from, to }) => at >= from && at < to);
    notes.forEach(({ at, pitch }, i) => {
      expect([1, 11]).not.toContain(Math.abs(midi(pitch) - tuneAt(score, at)) % 12);
      const before = notes[i - 1];
      const goesOn =
        before !== undefined &&
        before.at + before.length === at &&
        inSection(before.at) === inSection(at);
      if (goesOn) expect(Math.abs(midi(pitch) - midi(before.pitch))).toBeLessThanOrEqual(7);
    });
  });

  it('is sung in the rhythm of the tune', () => {
    const { voice } = lineOf(score, ALTO);
    const melody = Time.melodyOf(score);
    expect(voice.notes.map(({ at, length }) => [at, length])).toEqual(
      melody.notes.map(({ at, length }) => [at, length]),
    );
  });
});

describe('Second voices as they are written', () => {
  /** The alto of the hymn: of two notes on the upper staff the lower one. */
  function writtenAlto(score: Score) {
    const melody = Time.melodyOf(score);
    const alto = score.voices.find(({ id, group }) => id !== melody.id && group === melody.group);
    return alto?.notes.filter(({ pitches }) => pitches.length > 0) ?? [];
  }

  it('are no sweeter in hymnals than ours: thirds and sixths over the time of all hymns', () => {
    // The written altos of the hymns in seed-data, as their files have them (see its README for where they come from).
    const written: { apart: number; length: number }[] = [];
    const ours: { apart: number; length: number }[] = [];
    for (const file of HYMN_FILES) {
      const score = withChords(file);
      for (const { at, length, pitches } of writtenAlto(score)) {
        const sung = Time.noteAt(Time.melodyOf(score), at)?.pitches.at(-1);
        if (sung) written.push({ apart: midi(sung) - midi(pitches.at(-1) ?? ''), length });
      }
      for (const { at, length, pitch } of lineOf(score, ALTO).notes)
        ours.push({ apart: tuneAt(score, at) - midi(pitch), length });
    }
    expect(written.length).toBeGreaterThan(300);
    expect(sweetness(ours)).toBeGreaterThanOrEqual(sweetness(written));
    expect(sweetness(ours)).toBeGreaterThan(0.6);
  });
});

describe('The cheapest line', () => {
  it('is that of every line tried, on the beginnings of hymns', () => {
    const excerpt = fc.record({
      file: fc.constantFrom(...HYMN_FILES),
      from: fc.nat({ max: 20 }),
      low: fc.integer({ min: 48, max: 62 }),
      tune: fc.constantFrom('as written' as const, 'octave below' as const),
      side: fc.constantFrom('below' as const, 'above' as const),
      beside: fc.nat({ max: 2 }),
    });
    fc.assert(
      fc.property(excerpt, ({ file, from, low, tune, side, beside }) => {
        const score = withChords(file);
        const melody = Time.melodyOf(score);
        const notes = melody.notes.slice(from, from + 4);
        if (!notes.some(({ pitches }) => pitches.length > 0)) return;
        const short: Score = {
          ...score,
          voices: score.voices.map((voice) =>
            voice.id === melody.id ? { ...voice, notes } : voice,
          ),
        };
        const names = ['C', 'C#', 'D', 'Eb', 'E', 'F', 'F#', 'G', 'Ab', 'A', 'Bb', 'B'];
        const named = (at: number) => `${names[at % 12] ?? ''}${Math.floor(at / 12) - 1}`;
        const singer = { ...ALTO, comfortable: { low: named(low), high: named(low + 7) } };
        // What others sing: the other voices of the hymn.
        const others = score.voices.filter(({ id }) => id !== melody.id).slice(0, beside);
        const found = Harmony.line(short, singer, { tune, side, others });
        if (!found.ok) return;
        const problem = Harmony.problemOn(
          side,
          short,
          Harmony.tuneOf(Time.melodyOf(short)),
          singer,
          { tune, others },
        );
        let least = Infinity;
        type Choice = (typeof problem.choices)[number][number];
        const walk = (place: number, last: Choice | null, spent: number): void => {
          const here = problem.choices[place];
          if (!here) {
            least = Math.min(least, spent);
            return;
          }
          for (const choice of here) {
            const way = last === null ? [] : problem.way(place - 1, last, choice);
            const items = [...problem.own(place, choice), ...way];
            walk(place + 1, choice, spent + Harmony.pointsOf(items));
          }
        };
        walk(0, null, 0);
        expect(found.value.total).toBe(least);
      }),
      { numRuns: 300 },
    );
  });
});
