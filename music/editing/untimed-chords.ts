import type { Chord } from '../pitch/chord.ts';
import { success, type Result } from '../result.ts';
import {
  QUARTER,
  type ChordAt,
  type Note,
  type Score,
  type Section,
  type Syllable,
  type Ticks,
} from '../score/score.ts';
import { barAt, melodyOf } from '../score/time.ts';
import { refused } from './refusal.ts';
import { withSyllables } from './verses.ts';

/** A stretch of a line: its words, and the chord that begins with them; missing: the one before goes on. */
interface Piece {
  readonly text: string;
  readonly chord?: Chord | null;
}

interface Line {
  /** Index of its bar. */
  readonly bar: number;
  readonly notes: readonly Note[];
  readonly chords: readonly ChordAt[];
}

function linesIn(score: Score, { from, to }: Section): Line[] {
  const { notes } = melodyOf(score);
  return score.bars.flatMap((bar, index) => {
    if (bar.at < from || bar.at >= to) return [];
    const isIn = ({ at }: { readonly at: Ticks }): boolean => at >= bar.at && at < bar.at + bar.length; // prettier-ignore
    return [{ bar: index, notes: notes.filter(isIn), chords: score.chords.filter(isIn) }];
  });
}

const textOf = (syllables: readonly Syllable[]): string =>
  syllables.map(({ text, hyphen }) => (hyphen ? text : `${text} `)).join(''); // prettier-ignore

const wordsOf = (text: string): string[] => text.split(/\s+/u).filter((word) => word !== '');

/**
 * The chords of a line over the words of another: each over the word that has the same place in its line, one after the
 * last word after the last. Chords that meet over one word stand before it in their order.
 */
function over(line: Line, source: Line, verse: number): Piece[] {
  const sung = (notes: readonly Note[], index: number): Syllable[] =>
    notes.flatMap(({ syllables }) => syllables?.[index] ?? []);
  const words = wordsOf(textOf(sung(line.notes, verse)));
  const lead = source.notes.findIndex(({ syllables }) => syllables?.some(Boolean));
  const own = source.notes[lead]?.syllables?.findIndex(Boolean) ?? 0;
  const all = wordsOf(textOf(sung(source.notes, own))).length;
  const placed = source.chords.map(({ at, chord }) => {
    const before = sung(source.notes.filter((note) => note.at < at), own); // prettier-ignore
    const inWord = before.at(-1)?.hyphen ? 1 : 0;
    const place = wordsOf(textOf(before)).length - inWord;
    return { chord, place: place >= all ? words.length : Math.min(place, words.length - 1) };
  });
  const first = placed[0]?.place ?? words.length;
  const begin: Piece[] = first > 0 ? [{ text: words.slice(0, first).join(' ') }] : [];
  const rest = placed.map(({ chord, place }, i): Piece => {
    const to = placed[i + 1]?.place ?? words.length;
    return { text: words.slice(Math.max(0, place), to).join(' '), chord };
  });
  return [...begin, ...rest];
}

/**
 * Chords as in another section, of a song without time: line by line, over the words of the same place. The lines that
 * both have are written anew, so that a chord can stand inside them.
 */
export function copyUntimed(score: Score, source: Section, target: Section): Result<Score> {
  if (score.voices.length > 1) return refused('Chords cannot be taken over in this song before it has time.'); // prettier-ignore
  const [from, to] = [linesIn(score, source), linesIn(score, target)];
  const made = new Map<number, { pieces: readonly Piece[]; verse: number }>();
  for (const [i, line] of to.entries()) {
    const model = from[i];
    if (!model || model.chords.length === 0) continue;
    const sung = new Set(line.notes.flatMap(({ syllables }) => (syllables ?? []).flatMap((each, v) => (each ? [v] : [])))); // prettier-ignore
    if (sung.size > 1) {
      return refused(`${target.name} has words of several verses in one line; give the song time first.`); // prettier-ignore
    }
    const [verse = 0] = sung;
    made.set(line.bar, { pieces: over(line, model, verse), verse });
  }
  if (made.size === 0) return refused(`${source.name} has no chords that ${target.name} could take.`); // prettier-ignore
  return success(written(score, made));
}

/** A song without time in which some lines are other pieces; everything else keeps its order. */
function written(
  score: Score,
  made: ReadonlyMap<number, { pieces: readonly Piece[]; verse: number }>,
): Score {
  const voice = melodyOf(score);
  const notes: Note[] = [];
  const chords: Omit<ChordAt, 'length'>[] = [];
  const starts: Ticks[] = [];
  let at = 0;
  const bars = score.bars.map((bar, index) => {
    const line = made.get(index);
    const start = at;
    starts.push(start);
    const inside = <T extends { readonly at: Ticks }>(list: readonly T[]): readonly T[] =>
      list.filter((each) => each.at >= bar.at && each.at < bar.at + bar.length);
    if (line) {
      for (const { text, chord } of line.pieces) {
        const empty = Array.from({ length: line.verse }, () => null);
        const syllables = text === '' ? [] : [...empty, { text }];
        notes.push(withSyllables({ at, length: QUARTER, pitches: [] }, syllables));
        if (chord !== undefined) chords.push({ at, chord });
        at += QUARTER;
      }
    } else {
      const moved = start - bar.at;
      notes.push(...inside(voice.notes).map((note) => ({ ...note, at: note.at + moved })));
      chords.push(...inside(score.chords).map(({ length: _, ...each }) => ({ ...each, at: each.at + moved }))); // prettier-ignore
      at += bar.length;
    }
    return { ...bar, at: start, length: at - start };
  });
  const moment = (time: Ticks): Ticks => {
    const index = score.bars.indexOf(barAt(score, time));
    const bar = score.bars[index];
    return bar && time >= bar.at + bar.length ? at : (starts[index] ?? 0);
  };
  const sections = score.sections.map((each) => ({ ...each, from: moment(each.from), to: moment(each.to) })); // prettier-ignore
  const lasting = chords.map((each, i): ChordAt => {
    const section = sections.find(({ from, to }) => from <= each.at && each.at < to);
    const end = Math.min(chords[i + 1]?.at ?? Infinity, section?.to ?? at);
    return { ...each, length: end - each.at };
  });
  return {
    ...score,
    bars,
    voices: [{ ...voice, notes }],
    chords: lasting,
    sections,
    keys: score.keys.map((key) => ({ ...key, at: moment(key.at) })),
    introduction: [],
  };
}
