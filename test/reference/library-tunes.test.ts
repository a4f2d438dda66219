import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  Keys,
  LibraryEntries,
  NO_DETAILS,
  Pitches,
  Transpose,
  Tunes,
  type LibraryEntry,
  type Score,
} from '#music';
import { Book } from '#server/services/library/book.ts';
import { findByNotes } from '#server/services/library/find-tunes.ts';
import type { TeamStore } from '#server/store/store.ts';
import { hymn } from '#test/support/hymn.ts';
import { HYMN_FILES } from '#test/support/hymns.ts';

const hymns = HYMN_FILES.map(hymn);
const signs = hymns.map(Tunes.signOf);

/** Any spelling will do: tunes are found by how they sound. */
const SHARPS = ['C', 'C#', 'D', 'D#', 'E', 'F', 'F#', 'G', 'G#', 'A', 'A#', 'B'];
const named = (midi: number): string =>
  `${SHARPS[((midi % 12) + 12) % 12] ?? 'C'}${Math.floor(midi / 12) - 1}`;

const pitchesOf = (score: Score): number[] =>
  Tunes.notesOf(score).map(({ pitch }) => Pitches.midiOf(pitch));

/** How often each rank came up, as a line: `1: 996, 2: 3`. */
class Ranks {
  readonly #counts = new Map<number, number>();
  add(rank: number): void {
    this.#counts.set(rank, (this.#counts.get(rank) ?? 0) + 1);
  }
  get said(): string {
    const sorted = [...this.#counts].sort(([a], [b]) => a - b);
    return sorted.map(([rank, count]) => `${rank}: ${count}`).join(', ');
  }
}

describe('a tune is found by its notes', () => {
  it('in every key, note for note, from the beginning, first', () => {
    for (const [index, score] of hymns.entries()) {
      const asked = pitchesOf(score).slice(0, 7);
      for (let move = -12; move <= 12; move += 1) {
        const notes = asked.map((midi) => named(midi + move));
        const [best] = Tunes.find(notes, signs, 1);
        expect(best, HYMN_FILES[index]).toEqual({ tune: index, distance: 0, from: 0 });
      }
    }
  });

  it('with one wrong note of the first seven, whichever it is and wherever it leads', () => {
    const ranks = new Ranks();
    const missed: string[] = [];
    for (const [index, score] of hymns.entries()) {
      const asked = pitchesOf(score).slice(0, 7);
      for (const at of asked.keys()) {
        for (const off of [-3, -2, -1, 1, 2, 3]) {
          const wrong = asked.map((midi, i) => named(midi + 5 + (i === at ? off : 0)));
          const found = Tunes.find(wrong, signs, signs.length);
          const rank = found.findIndex(({ tune }) => tune === index) + 1;
          ranks.add(rank);
          // That wrong note makes it the beginning of another tune, but for one note that is repeated.
          const isAnother = found[0]?.from === 0 && found[0].distance <= 0.35;
          if (rank !== 1 && !isAnother) missed.push(`${HYMN_FILES[index] ?? ''}, note ${at + 1}`);
        }
      }
    }
    process.stdout.write(`tunes with one wrong note of seven, by rank: ${ranks.said}\n`);
    expect(missed).toEqual([]);
    expect(ranks.said).toMatch(/^1: 100[6-8]\b/);
  });

  it('from any note of them, among the first three', () => {
    const ranks = new Ranks();
    for (const [index, score] of hymns.entries()) {
      const pitches = pitchesOf(score);
      for (let from = 0; from + 9 <= pitches.length; from += 4) {
        const notes = pitches.slice(from, from + 9).map((midi) => named(midi - 4));
        const found = Tunes.find(notes, signs, signs.length);
        const rank = found.findIndex(({ tune }) => tune === index) + 1;
        ranks.add(rank);
        expect(rank, `${HYMN_FILES[index] ?? ''} from note ${from + 1}`).toBeLessThanOrEqual(3);
      }
    }
    process.stdout.write(`tunes by nine notes of anywhere, by rank: ${ranks.said}\n`);
  });
});

/** What the least distance is, by trying every way to lay the notes on every stretch in every key; it shares no code. */
function slowly(asked: readonly number[], tune: readonly number[]): { rank: number } {
  const other = (a: number, b: number): number =>
    a === b ? 0 : Math.min(1, 0.45 + 0.05 * Math.abs(a - b));
  const gap = (list: readonly number[], at: number): number =>
    at > 0 && list[at] === list[at - 1] ? 0.35 : 1;
  const lay = (i: number, j: number, by: number): number => {
    if (i === asked.length) return 0;
    const note = (asked[i] as number) + by;
    const ways = [gap(asked, i) + lay(i + 1, j, by)];
    if (j < tune.length) {
      ways.push(other(note, tune[j] as number) + lay(i + 1, j + 1, by));
      ways.push(gap(tune, j) + lay(i, j + 1, by));
    }
    return Math.min(...ways);
  };
  let rank = Infinity;
  for (let by = -30; by <= 30; by += 1) {
    for (let from = 0; from <= tune.length; from += 1) {
      rank = Math.min(rank, lay(0, from, by) + (from === 0 ? 0 : 0.65));
    }
  }
  return { rank };
}

const heights = (most: number) =>
  fc.array(fc.integer({ min: 60, max: 66 }), { minLength: 3, maxLength: most });

describe('the distance of notes from a tune', () => {
  it('is the least there is', () => {
    fc.assert(
      fc.property(heights(5), heights(6), (asked, tune) => {
        const sign = { steps: tune.slice(1).map((midi, i) => midi - (tune[i] as number)) };
        const [found] = Tunes.find(asked.map(named), [sign], 1);
        const rank = (found?.distance ?? NaN) + (found?.from === 0 ? 0 : 0.65);
        expect(rank).toBeCloseTo(slowly(asked, tune).rank, 6);
      }),
      { numRuns: 150 },
    );
  });

  it('orders tunes as they are alone, whatever stands beside them', () => {
    const few = fc.array(heights(8), { minLength: 2, maxLength: 8 });
    fc.assert(
      fc.property(heights(6), few, (asked, tunes) => {
        const list = tunes.map((tune) => ({
          steps: tune.slice(1).map((midi, i) => midi - (tune[i] as number)),
        }));
        const alone = list.map((sign, i) => {
          const [found] = Tunes.find(asked.map(named), [sign], 1);
          return { i, rank: (found?.distance ?? NaN) + (found?.from === 0 ? 0 : 0.65) };
        });
        const best = Math.min(...alone.map(({ rank }) => rank));
        const [first] = Tunes.find(asked.map(named), list, 1);
        expect(alone[first?.tune ?? -1]?.rank).toBeCloseTo(best, 6);
      }),
      { numRuns: 150 },
    );
  });
});

describe('the same melody', () => {
  it('is known in another key, with a note changed, and without its repeated notes', () => {
    for (const [index, score] of hymns.entries()) {
      const sign = Tunes.signOf(score);
      const home = score.keys[0]?.key;
      const other = Keys.keysToOffer(home?.mode ?? 'major')[(index * 5) % 12];
      if (other) expect(Tunes.alike(sign, Tunes.signOf(Transpose.score(score, other)))).toBe(true);
      const middle = sign.steps.length >> 1;
      const changed = sign.steps.map((step, i) =>
        i === middle ? step + 1 : i === middle + 1 ? step - 1 : step,
      );
      expect(Tunes.alike(sign, { steps: changed }), HYMN_FILES[index]).toBe(true);
      expect(Tunes.alike(sign, { steps: sign.steps.filter((step) => step !== 0) })).toBe(true);
    }
  });

  it('is never seen in two different hymns', () => {
    for (const [i, one] of signs.entries()) {
      for (const other of signs.slice(i + 1)) {
        expect(Tunes.alike(one, other)).toBe(false);
        expect(Tunes.mayBeAlike(one, other)).toBe(false);
      }
    }
  });

  it('may be one that is played with other notes here and there, or written out for all verses', () => {
    for (const { steps } of signs) {
      // A passing note in every fourth bar or so.
      const passing = steps.flatMap((step, i) => (i % 16 === 5 ? [step - 1, 1] : [step]));
      expect(Tunes.mayBeAlike({ steps }, { steps: passing })).toBe(true);
      expect(Tunes.mayBeAlike({ steps }, { steps: [...steps, 2, ...steps] })).toBe(true);
      expect(Tunes.mayBeAlike({ steps }, { steps: steps.slice(0, 8) })).toBe(true);
    }
  });

  it('is not told from so few notes that chance would do', () => {
    expect(Tunes.alike({ steps: [2, 2, 1] }, { steps: [2, 2, 1] })).toBe(false);
  });
});

describe('many notes', () => {
  const steps = [0, 2, 4, 5, 7, 9, 11, 12, 11, 9, 7, 5, 4, 2];
  const scale = Array.from({ length: 45 }, (_, i) => named(60 + (steps[i % 14] as number)));

  it('count up to the twentieth', () => {
    expect(Tunes.find(scale, signs, 5)).toEqual(Tunes.find(scale.slice(0, 20), signs, 5));
  });

  it('let others have their turn while a book is looked through', async () => {
    const entries = hymns.map((score) => LibraryEntries.of(score, NO_DETAILS));
    const songs = Array.from({ length: 2400 }, (_, i) => {
      const entry = entries[i % entries.length] as LibraryEntry;
      return { id: `song-${i}`, version: 1, entry, key: entry.key };
    });
    const library = Book.of(songs);
    const store = {
      everyRequest: { stamp: () => Promise.resolve(null) },
      surroundings: { now: () => new Date('2026-03-01T10:00:00Z') },
    } as unknown as TeamStore;
    let [turns, over] = [0, false];
    const others = (): void => {
      turns += 1;
      if (!over) setImmediate(others);
    };
    setImmediate(others);
    const { songs: found } = await findByNotes(store, library, scale.join(' '));
    over = true;
    expect(found).toHaveLength(10);
    expect(turns).toBeGreaterThanOrEqual(2400 / 300);
  });
});
