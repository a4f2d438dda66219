import { describe, expect, it } from 'vitest';
import { LibraryEntries, NO_DETAILS, Pitches, type LibraryEntry } from '#music';
import { SearchQuery } from '#server/contract/library.ts';
import { Book } from '#server/services/library/book.ts';
import { searchBook } from '#server/services/library/search-songs.ts';
import { integer, mulberry32, pick, type Chance } from '#test/support/chance.ts';
import { hymn } from '#test/support/hymn.ts';
import { HYMN_FILES } from '#test/support/hymns.ts';

const chance = mulberry32(42);
const some = <T>(list: readonly T[]): T[] => list.filter(() => chance() < 0.4);
const THEMES = ['Grace', 'Advent', 'Évening'];
const PLACES = ['Psalm 23', 'Luke 2:7', '1 Cor 13:4–7'];

/** Every hymn four times, with facts of its own each time. */
const songs = [1, 2, 3, 4].flatMap((round) =>
  HYMN_FILES.map((file, i) => {
    const details = {
      ...NO_DETAILS,
      themes: some(THEMES),
      scripture: some(PLACES),
      language: pick(chance, [null, 'en', 'en-GB', 'de']),
    };
    const entry = LibraryEntries.of(hymn(file), details);
    return { id: `${round}-${i}`, version: 1, entry, key: entry.key };
  }),
);
const book = Book.of(songs);

type Asked = Partial<Record<string, string | number>>;
type Holds = (entry: LibraryEntry) => boolean | null;

/** Sharps or flats of the usual spelling of a key, by the semitones of its tonic above C (the circle of fifths). */
const MAJOR = [0, 5, 2, 3, 4, 1, 6, 1, 4, 3, 2, 5];
const ABOVE: Readonly<Record<string, number>> = {
  major: 0,
  minor: 3,
  dorian: 10,
  mixolydian: 5,
  phrygian: 8,
  lydian: 7,
  locrian: 1,
};

/** By semitones alone, no names of notes. Null: it hangs on which way a tritone goes, which is a matter of spelling. */
function sitsIn(entry: LibraryEntry, low: number, high: number, most: number): boolean | null {
  const { key, range } = entry;
  if (!range) return false;
  const [bottom, top] = [Pitches.midiOf(range.low), Pitches.midiOf(range.high)];
  const fits = (move: number): boolean =>
    [0, 12].some((down) => bottom + move - down >= low && top + move - down <= high);
  const tonic = Pitches.pitchClassOf(key.tonic);
  let isOpen = false;
  for (let move = -6; move <= 6; move += 1) {
    const major = (tonic + move + (ABOVE[key.mode] ?? 0) + 24) % 12;
    if ((MAJOR[major] ?? 7) > most || !fits(move)) continue;
    if (Math.abs(move) < 6 || fits(-move)) return true;
    isOpen = true;
  }
  return isOpen ? null : false;
}

const felt = ({ feltTempo }: LibraryEntry): number | null => feltTempo;

/** A question with what it means, said once more. */
function anyQuestion(random: Chance): { asked: Asked; holds: Holds[] } {
  const asked: Asked = {};
  const holds: Holds[] = [];
  const maybe = (part: number, add: () => void): void => {
    if (random() < part) add();
  };
  maybe(0.2, () => {
    const tonic = pick(random, ['G', 'Eb', 'D', 'F', 'E', 'D']);
    const mode = pick(random, ['major', 'minor', 'dorian']);
    asked['key'] = `${tonic} ${mode}`;
    holds.push(({ key }) => key.tonic === tonic && key.mode === mode);
  });
  maybe(0.3, () => {
    const meter = pick(random, ['3/4', '4/4', '6/8', '2/2', 'free']);
    asked['meter'] = meter;
    holds.push((entry) => entry.meter === meter);
  });
  maybe(0.3, () => {
    const theme = pick(random, ['grace', 'ADVENT', 'evening', 'none']);
    const whole: Record<string, string> = { grace: 'Grace', ADVENT: 'Advent', evening: 'Évening' };
    asked['theme'] = theme;
    holds.push(({ themes }) => themes.includes(whole[theme] ?? ''));
  });
  maybe(0.3, () => {
    const [name, place] = pick(random, [
      ['Ps', 'Psalm 23'],
      ['luke', 'Luke 2:7'],
      ['1 Corinthians', '1 Cor 13:4–7'],
    ] as const);
    asked['book'] = name;
    holds.push(({ scripture }) => scripture.includes(place));
  });
  maybe(0.3, () => {
    const language = pick(random, ['en', 'de', 'fr']);
    asked['language'] = language;
    holds.push((entry) => (entry.language ?? '').startsWith(language));
  });
  maybe(0.4, () => {
    const slowest = integer(random, 30, 120);
    asked['slowest'] = slowest;
    holds.push((entry) => felt(entry) !== null && (felt(entry) ?? 0) >= slowest);
  });
  maybe(0.4, () => {
    const fastest = integer(random, 50, 140);
    asked['fastest'] = fastest;
    holds.push((entry) => felt(entry) !== null && (felt(entry) ?? 0) <= fastest);
  });
  maybe(0.5, () => {
    const low = integer(random, 45, 64);
    const high = low + integer(random, 8, 22);
    const most = integer(random, 0, 6);
    const names = ['C', 'C#', 'D', 'D#', 'E', 'F', 'F#', 'G', 'G#', 'A', 'A#', 'B'];
    const named = (midi: number): string =>
      `${names[midi % 12] ?? 'C'}${Math.floor(midi / 12) - 1}`;
    Object.assign(asked, { low: named(low), high: named(high), accidentals: most });
    holds.push((entry) => sitsIn(entry, low, high, most));
  });
  return { asked, holds };
}

describe('what is asked beside words', () => {
  it('holds all together, for 1,500 questions, by plain loops', () => {
    let [found, told] = [0, 0];
    for (let i = 0; i < 1500; i += 1) {
      const { asked, holds } = anyQuestion(chance);
      const { songs: quick, count } = searchBook(
        book,
        SearchQuery.parse({ ...asked, most: 500 }),
        new Date('2026-03-01T10:00:00Z'),
      );
      expect(quick).toHaveLength(count);
      const open = new Set<string>();
      const slow = songs.flatMap(({ id, entry }) => {
        const each = holds.map((hold) => hold(entry));
        if (each.includes(null)) open.add(id);
        return each.includes(false) || open.has(id) ? [] : [id];
      });
      const closed = quick.map(({ id }) => id).filter((id) => !open.has(id));
      expect(closed.sort(), JSON.stringify(asked)).toEqual(slow.sort());
      found += slow.length;
      if (slow.length > 0 && slow.length < songs.length) told += 1;
    }
    expect(found).toBeGreaterThan(5000);
    expect(told, 'questions that tell songs apart').toBeGreaterThan(600);
  });
});
