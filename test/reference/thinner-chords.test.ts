import { describe, expect, it } from 'vitest';
import { ChordSymbol, Pitches, Reduction, Time, type ChordAt, type Score } from '#music';
import { hymn } from '#test/support/hymn.ts';
import { HYMN_FILES } from '#test/support/hymns.ts';
import { includes, namesIn, symbol, triadByTonal } from '#test/support/sounding-chords.ts';

type Bar = Score['bars'][number];

const HYMNS = HYMN_FILES.map((file) => {
  const score = hymn(file);
  const [full, half, plain] = (['beat', 'half bar', 'bar'] as const).map(
    (density) => Reduction.chords(score, { density }).chords,
  );
  if (!full || !half || !plain) throw new Error(file);
  return { file, title: score.facts.title, score, full, half, plain };
});

/**
 * Bars that a thinner set once held another chord through. The source is the hymn itself: what its voices sing on each
 * felt beat, letter by letter as printed (checked below); which chord a player of one a bar has there follows from it.
 */
const HARD_BARS = [
  { hymn: 'Coronation', bar: 2, sung: ['A D F#', 'B E G', 'A D F#', 'B D G'], chords: 'D', why: 'the dominant on two beats of four' }, // prettier-ignore
  { hymn: 'Coronation', bar: 3, sung: ['A C D F#', 'B E G', 'B D G', 'A C D F#'], chords: 'D7', why: 'its seventh at both ends' }, // prettier-ignore
  { hymn: 'Coronation', bar: 4, sung: ['B G', 'B G', 'B G', 'A D'], chords: 'G', why: 'where the dominant goes' }, // prettier-ignore
  { hymn: 'Eventide', bar: 7, sung: ['Ab C Eb F', 'Bb D F', 'Bb Eb G', 'A C Eb'], chords: 'Fm7 Eb', why: 'four chords, the strong ones kept' }, // prettier-ignore
  { hymn: 'St_Denio', bar: 12, sung: ['A D G', 'A D F#', 'B D G'], chords: 'Dsus4 G', why: 'the tonic on its last beat' }, // prettier-ignore
  { hymn: 'Nun_Danket', bar: 14, sung: ['A C F', 'C E G', 'A C F', 'B D G'], chords: 'F', why: 'the tonic on two beats of four' }, // prettier-ignore
] as const;

/** For how much of a bar (0–1) a thinner set has a chord with all notes of the fuller one, or none but them. */
function agreeing(thin: readonly ChordAt[], fuller: readonly ChordAt[], bar: Bar): number {
  const end = bar.at + bar.length;
  let agreed = 0;
  for (const a of thin) {
    for (const b of fuller) {
      const [from, to] = [Math.max(a.at, b.at, bar.at), Math.min(a.at + a.length, b.at + b.length, end)]; // prettier-ignore
      if (from < to && includes(a, b)) agreed += to - from;
    }
  }
  return agreed / bar.length;
}

describe('Thinner chords of the 24 hymns (Open Hymnal Project)', () => {
  it('agree with the full reading for more than a third of every bar', () => {
    // The limit of two chords a bar forces no exception in these hymns; one that it did force would be named here.
    for (const { title, score, full, half, plain } of HYMNS) {
      for (const thin of [half, plain]) {
        for (const bar of score.bars) {
          const share = agreeing(thin, full, bar);
          expect(share, `${title}, bar ${bar.number}`).toBeGreaterThan(1 / 3);
        }
      }
    }
  });

  it('have the triad that is sung on the first beat of a bar, by tonal, and the note of the tune', () => {
    const counts = { triads: 0, half: 0, plain: 0, tune: 0 };
    for (const { score, half, plain } of HYMNS) {
      for (const { at, number } of score.bars) {
        const sung = namesIn(score, at, at + Time.feltBeat(Time.meterAt(score, at)));
        if (number === 0 || !triadByTonal(sung)) continue;
        counts.triads += 1;
        const [ofHalf, ofBar] = [half, plain].map((chords) => {
          const chord = chords.findLast((each) => each.at <= at)?.chord;
          return chord ? ChordSymbol.tonesOf(chord) : [];
        });
        if (sung.every((name) => ofHalf?.includes(name))) counts.half += 1;
        if (sung.every((name) => ofBar?.includes(name))) counts.plain += 1;
        const tune = Time.soundingNotes(Time.melodyOf(score)).find(
          (note) => note.at <= at && at < note.at + note.length,
        );
        if (!tune || ofBar?.includes(Pitches.noteOf(tune.pitch))) counts.tune += 1;
      }
    }
    const { triads, half, plain, tune } = counts;
    process.stdout.write(
      `first beats on a plain triad: ${triads}; it is played in half bars on ${half}, in bars on ${plain}, with the tune's note on ${tune}\n`,
    );
    expect(half / triads).toBeGreaterThan(0.98);
    expect(plain / triads).toBeGreaterThan(0.98);
    expect(tune / triads).toBeGreaterThan(0.99);
  });

  it.each(HARD_BARS)('of $hymn, bar $bar: $why', ({ hymn: name, bar: number, sung, chords }) => {
    const found = HYMNS.find(({ file }) => file.includes(name));
    const bar = found?.score.bars.find((each) => each.number === number);
    if (!found || !bar) throw new Error(name);
    const beat = Time.feltBeat(Time.meterAt(found.score, bar.at));
    for (const [place, notes] of sung.entries()) {
      const from = bar.at + place * beat;
      expect(
        namesIn(found.score, from, from + beat)
          .sort()
          .join(' '),
      ).toBe(notes);
    }
    const inBar = found.plain.filter(
      (each) => each.at < bar.at + bar.length && each.at + each.length > bar.at,
    );
    expect(inBar.map(symbol).join(' ')).toBe(chords);
    expect(agreeing(found.plain, found.full, bar)).toBeGreaterThan(1 / 3);
  });
});
