import { changingKeys, changingMeters, cut, inForceOver } from './cuts.ts';
import type { Bar, Note, Score, Span, Syllable, Ticks, Voice } from './score.ts';
import { temposOf, withTempos, type TempoFrom } from './tempos.ts';

/** A stretch of a song to be laid behind others on a new time line. */
export interface Piece extends Span {
  /** Whose stretch it is: the song, or the song in another key. */
  readonly score: Score;
  /** Numbers of the verses that are sung to it: only their words stand under it. null: it keeps the words that it has. */
  readonly verses: readonly (number | null)[] | null;
  /** Repeats and endings are played out, so their signs are gone. */
  readonly isPlayedOut?: boolean;
  /** A double bar line ends it, also where the next piece goes on from it. */
  readonly isApart?: boolean;
}

/** Pieces that follow one another in the score that they are from. */
interface Run extends Span {
  readonly score: Score;
  readonly pieces: readonly Piece[];
}

function runsOf(pieces: readonly Piece[]): Run[] {
  const runs: Run[] = [];
  for (const piece of pieces) {
    const last = runs.at(-1);
    if (last?.score === piece.score && last.to === piece.from)
      runs[runs.length - 1] = { ...last, to: piece.to, pieces: [...last.pieces, piece] };
    else runs.push({ score: piece.score, from: piece.from, to: piece.to, pieces: [piece] });
  }
  return runs;
}

/**
 * One piece after another on a new time line, with what is in force in each: keys, meters, tempos. Bars keep their numbers;
 * one that begins before its piece is the pickup of it. A tie that leads out of a piece ends with it unless the next piece
 * goes on from there, and so does a final bar line.
 * @param source gives what has no place in time: facts, verses, names of the voices (all pieces have the same)
 * @returns its sections, form and introduction are still those of `source`; `starts`: where each piece begins now
 */
export function splice(
  source: Score,
  pieces: readonly Piece[],
): { readonly score: Score; readonly starts: readonly Ticks[] } {
  const keys: Score['keys'][number][] = [];
  const meters: Score['meters'][number][] = [];
  const bars: Bar[] = [];
  const tempos: TempoFrom[] = [];
  const chords: Score['chords'][number][] = [];
  const voices = source.voices.map((voice) => ({ voice, notes: [] as Note[] }));
  const starts: Ticks[] = [];
  let end: Ticks = 0;
  for (const run of runsOf(pieces)) {
    const moved = end - run.from;
    bars.push(...barsOf(run, moved));
    keys.push(...inForceOver(run.score.keys, run, moved));
    meters.push(...inForceOver(run.score.meters, run, moved));
    tempos.push(...inForceOver(temposOf(run.score), run, moved));
    chords.push(...cut(run.score.chords, run, moved));
    voices.forEach(({ notes }, i) => notes.push(...notesOf(run, i, moved)));
    starts.push(...run.pieces.map(({ from }) => from + moved));
    end += run.to - run.from;
  }
  const [lastBar, lastOfAll] = [bars.at(-1), source.bars.at(-1)];
  if (lastBar && lastOfAll) bars[bars.length - 1] = { ...lastBar, line: lastOfAll.line };
  return {
    score: {
      ...withTempos(source, tempos),
      keys: changingKeys(keys),
      meters: changingMeters(meters),
      bars,
      chords,
      voices: voices.map(({ voice, notes }): Voice => ({ ...voice, notes })),
    },
    starts,
  };
}

function barsOf({ score, pieces, ...span }: Run, moved: Ticks): Bar[] {
  const isCutAt = new Set([span.to, ...pieces.flatMap((each) => (each.isApart ? [each.to] : []))]);
  return cut(score.bars, span, moved).map((bar): Bar => {
    const [from, to] = [bar.at - moved, bar.at - moved + bar.length];
    const isPlayedOut = pieces.find((each) => from < each.to && to > each.from)?.isPlayedOut;
    const whole = score.bars.find((each) => each.at <= from && each.at + each.length > from);
    const isPickup = from === span.from && whole !== undefined && whole.at < from;
    return {
      ...bar,
      ...(isPlayedOut && { repeatStart: false, repeatEnd: false, endings: [] }),
      ...(isPickup && { number: 0 }),
      // A final bar line in the middle of a sheet would say that the song is over.
      ...(isCutAt.has(to) && bar.line !== 'dashed' && { line: 'double' }),
    };
  });
}

function notesOf({ score, pieces, ...span }: Run, voice: number, moved: Ticks): Note[] {
  const source = score.voices[voice]?.notes ?? [];
  const begunBefore = source.find(({ at, length }) => at < span.from && at + length > span.from);
  const sung = pieces.map((piece) => ({ ...piece, verses: indexesSung(piece, source) }));
  return cut(source, span, moved).map((note): Note => {
    const from = note.at - moved;
    const verses = sung.find((each) => from >= each.from && from < each.to)?.verses ?? [];
    const { tie, syllables, ...rest } = verses.length > 0 ? withWordsOf(score, note, verses) : note;
    const isCut = begunBefore !== undefined && from === span.from;
    return {
      ...rest,
      ...(tie && from + note.length < span.to && { tie }),
      ...(syllables && !isCut && { syllables }),
    };
  });
}

/**
 * Indexes of the verses whose words alone stand under a piece; none where it keeps those it has, as of a refrain that is
 * written once. Verses that are only known as text take the place of words too.
 */
function indexesSung({ score, verses, from, to }: Piece, notes: readonly Note[]): number[] {
  const indexes = score.verses.flatMap(({ number }, i) => (verses?.includes(number) ? [i] : []));
  const has = (index: number): boolean =>
    notes.some(({ at, syllables }) => at >= from && at < to && syllables?.[index]);
  const isText = indexes.every((index) => score.verses[index]?.lines?.length);
  return indexes.some(has) || isText ? indexes : [];
}

/** Under a copy stand only words that are sung to it: a verse that is not gives place to the first that is. */
function withWordsOf(score: Score, note: Note, sung: readonly number[]): Note {
  const { syllables } = note;
  const [first] = sung;
  if (!syllables || first === undefined) return note;
  return {
    ...note,
    syllables: score.verses.map(
      (_, i): Syllable | null => (sung.includes(i) ? syllables[i] : syllables[first]) ?? null,
    ),
  };
}
