import { describe, expect, it } from 'vitest';
import {
  ChordSymbol,
  Keys,
  QUARTER,
  Reduction,
  Time,
  Transpose,
  type ChordAt,
  type Score,
} from '#music';
import { hymn } from '#test/support/hymn.ts';
import { HYMN_FILES } from '#test/support/hymns.ts';
import { includes, namesIn, symbol, triadByTonal } from '#test/support/sounding-chords.ts';

const HYMNS = HYMN_FILES.map((file) => {
  const score = hymn(file);
  return {
    file,
    title: score.facts.title,
    score,
    full: Reduction.chords(score, { density: 'beat' }),
    half: Reduction.chords(score, { density: 'half bar' }),
    plain: Reduction.chords(score, { density: 'bar' }),
    alone: Reduction.chords(score, { density: 'alone' }),
  };
});

function asTriad(name: string): string {
  return name.replace(/M$/, '');
}

describe('Chords of the 24 hymns (Open Hymnal Project)', () => {
  it('are found for every hymn, from first note to last, each with its reason', () => {
    expect(HYMNS).toHaveLength(24);
    for (const { score, full, plain } of HYMNS) {
      for (const { chords } of [full, plain]) {
        let at = 0;
        for (const each of chords) {
          expect(each.at).toBe(at);
          at += each.length;
          expect(each.guess?.reason).toMatch(/^(bar \d+|the pickup), .*beat/);
        }
        expect(at).toBe(Time.endOf(score));
      }
    }
  });

  it('leave fewer than 2 % of all notes without a textbook name, in every hymn and in all', () => {
    const notes = (score: Score) =>
      score.voices.reduce((sum, voice) => sum + Time.soundingNotes(voice).length, 0);
    const all = HYMNS.reduce((sum, { score }) => sum + notes(score), 0);
    const outside = HYMNS.reduce((sum, { full }) => sum + full.nonChordTones.length, 0);
    const unnamed = HYMNS.reduce((sum, { full }) => sum + full.unclassified, 0);
    process.stdout.write(
      `hymns: ${outside} notes outside their chords, ${unnamed} of ${all} notes unclassified (${((100 * unnamed) / all).toFixed(2)} %)\n`,
    );
    for (const { title, full } of HYMNS) expect(full.share, title).toBeLessThan(0.02);
    expect(unnamed / all).toBeLessThan(0.02);
  });

  it('are the triad wherever exactly a triad sounds under a chord, by tonal', () => {
    let checked = 0;
    for (const { title, score, full } of HYMNS) {
      for (const each of full.chords) {
        const triad = triadByTonal(namesIn(score, each.at, each.at + each.length));
        if (!triad) continue;
        checked += 1;
        expect(symbol(each), `${title}: ${each.guess?.reason ?? ''}`).toBe(asTriad(triad));
      }
    }
    expect(checked).toBeGreaterThan(300);
  });

  it('are that triad through every bar in which nothing else sounds, by tonal', () => {
    let checked = 0;
    for (const { title, score, full, plain } of HYMNS) {
      for (const bar of score.bars) {
        const triad = triadByTonal(namesIn(score, bar.at, bar.at + bar.length));
        if (!triad) continue;
        checked += 1;
        for (const { chords } of [full, plain]) {
          const there = chords.filter(
            (each) => each.at < bar.at + bar.length && each.at + each.length > bar.at,
          );
          expect([...new Set(there.map(symbol))], `${title}, bar ${bar.number}`).toEqual([
            asTriad(triad),
          ]);
        }
      }
    }
    expect(checked).toBeGreaterThan(30);
  });

  it('end on the tonic (common practice)', () => {
    for (const { title, score, full, plain } of HYMNS) {
      const { tonic } = Time.keyAt(score, Time.endOf(score) - 1).key;
      for (const { chords } of [full, plain]) expect(chords.at(-1)?.chord?.root, title).toBe(tonic);
    }
  });

  it('come to that end from the dominant in all but the modal Picardy, which has F', () => {
    const ends = HYMNS.flatMap(({ title, score, full }) => {
      const { tonic } = Time.keyAt(score, Time.endOf(score) - 1).key;
      const before = full.chords.at(-2)?.chord;
      const degree = before ? Keys.degreeOf({ tonic, mode: 'major' }, before.root).degree : 0;
      return degree === 5 ? [] : [`${title}: ${before ? ChordSymbol.write(before) : ''}`];
    });
    expect(ends).toEqual(['Let All Mortal Flesh Keep Silence: F/A']);
  });

  it('of a thinner set begin where the next fuller one begins them: changes are only left out', () => {
    const counts = [0, 0, 0];
    for (const { title, full, half, plain } of HYMNS) {
      for (const [thin, fuller] of [
        [half, full],
        [plain, half],
      ] as const) {
        const starts = fuller.chords.map(({ at, chord }) => [at, chord]);
        for (const { at, chord } of thin.chords) expect(starts, title).toContainEqual([at, chord]);
      }
      [full, half, plain].forEach(({ chords }, place) => {
        counts[place] = (counts[place] ?? 0) + chords.length;
      });
    }
    process.stdout.write(`chords of 24 hymns, every change, half bar, bar: ${counts.join(', ')}\n`);
  });

  it('of a thinner set are two a bar at most but for the last cadence, and last over a run of others for a bar at most', () => {
    for (const { title, score, full, half, plain } of HYMNS) {
      for (const { chords } of [half, plain]) {
        for (const bar of score.bars) {
          const kept = chords.filter((each) => each.at < bar.at + bar.length && each.at + each.length > bar.at); // prettier-ignore
          const metered = Time.meterAt(score, bar.at).beats !== null;
          const most = (chords.at(-1)?.at ?? 0) < bar.at + bar.length ? 3 : 2;
          if (metered) expect(kept.length, `${title}, bar ${bar.number}`).toBeLessThanOrEqual(most);
        }
        for (const each of chords) {
          const length = Time.barLength(Time.meterAt(score, each.at)) ?? 2 * QUARTER;
          let run = 0;
          for (const other of full.chords) {
            const inside = other.at > each.at && other.at < each.at + each.length;
            // Beside an A7 an A is no other chord.
            run = inside && !includes(other, each) ? run + other.length : 0;
            expect(run, `${title}: ${each.guess?.reason ?? ''}`).toBeLessThanOrEqual(length);
          }
        }
      }
    }
  });

  it('for who plays alone are chords of the full reading of the same bar, two a bar at most', () => {
    for (const { title, score, full, alone } of HYMNS) {
      for (const bar of score.bars) {
        const inBar = (each: ChordAt) =>
          each.at < bar.at + bar.length && each.at + each.length > bar.at;
        const own = full.chords
          .filter(inBar)
          .map((each) => each.chord && ChordSymbol.write(each.chord));
        const kept = alone.chords.filter(inBar);
        for (const each of kept) {
          const name = each.chord && ChordSymbol.write(each.chord);
          expect(own, `${title}, bar ${bar.number}`).toContain(name);
        }
        if (Time.meterAt(score, bar.at).beats !== null) expect(kept.length).toBeLessThan(3);
      }
      expect(alone.chords.length).toBeLessThanOrEqual(full.chords.length);
    }
  });

  it('for a beginner of Stille Nacht are the three that everybody plays (common practice)', () => {
    const { score, plain } =
      HYMNS.find(({ title }) => title === 'Silent Night') ?? (HYMNS[0] as (typeof HYMNS)[number]);
    const bars = score.bars.map((bar) =>
      plain.chords
        .filter((each) => each.at < bar.at + bar.length && each.at + each.length > bar.at)
        .map(({ chord }) => chord?.root)
        .join(' '),
    );
    expect(bars.join(' | ')).toBe('Bb | Bb | F | Bb | Eb | Bb | Eb | Bb | F | Bb | Bb F | Bb');
  });

  it('for a beginner say which changes they leave out', () => {
    const told = HYMNS.flatMap(({ full, plain }) =>
      plain.chords.flatMap((each) => {
        const list = /; left out: (.*)\.$/.exec(each.guess?.reason ?? '')?.[1] ?? '';
        const names = [...list.matchAll(/([A-G][^ ]*) \((?:bar|the pickup)[^)]*\)/g)].map(
          ([, name]) => name,
        );
        const there = full.chords
          .filter(({ at }) => at >= each.at && at < each.at + each.length)
          .map(({ chord }) => chord && ChordSymbol.say(chord));
        for (const name of names) expect(there).toContain(name);
        return names;
      }),
    );
    expect(told.length).toBeGreaterThan(50);
  });

  it('of a transposed hymn are the transposed chords, and its sentences name its own pitches', () => {
    for (const [place, { title, score, full }] of HYMNS.entries()) {
      const { key } = Time.keyAt(score, 0);
      // Three keys a hymn, other ones each time: every key is met six times.
      const keys = Keys.keysToOffer(key.mode).filter((_, each) => (each - place) % 4 === 0);
      for (const to of keys) {
        const interval = Transpose.interval(key, to, 'nearest');
        const moved = Reduction.chords(Transpose.score(score, to), { density: 'beat' });
        expect(
          moved.chords.map(({ at, chord }) => [at, chord]),
          `${title} in ${Keys.writeKey(to)}`,
        ).toEqual(
          full.chords.map(({ at, chord }) => [at, chord && ChordSymbol.transpose(chord, interval)]),
        );
      }
    }
  });
});
