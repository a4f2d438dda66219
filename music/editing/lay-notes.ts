import type { Bar, Note, Score, Span, Ticks } from '../score/score.ts';
import { feltBeat, inForce, meterAt } from '../score/time.ts';
import { withoutSlurs } from './slurs.ts';

/**
 * How notes lie in bars. A note that is written ends at the bar line and is tied over it, so that each bar can be taken
 * out whole; inside a bar a length stays one note however many written notes it needs: whoever draws it cuts it at
 * the beats.
 */
export function splitAtBars(bars: readonly Bar[], note: Note): Note[] {
  const end = note.at + note.length;
  const pieces: Note[] = [];
  for (let at = note.at; at < end;) {
    const bar = inForce(bars, at);
    const line = bar.at + bar.length;
    const to = line > at ? Math.min(end, line) : end;
    pieces.push(pieceOf(note, { from: at, to }));
    at = to;
  }
  return pieces;
}

/** What begins with a note stays with its first piece, what ends with it with the last. */
export function pieceOf(note: Note, { from, to }: Span): Note {
  const { syllables, grace, fingers, slurStarts, slurEnds, fermata, above, signs, beam, tie, ...rest } = note; // prettier-ignore
  const isFirst = from === note.at;
  const isLast = to === note.at + note.length;
  const goesOn = isLast ? tie : note.pitches.length > 0 ? (true as const) : undefined;
  return {
    ...rest,
    at: from,
    length: to - from,
    ...(goesOn && { tie: goesOn }),
    ...(isFirst && {
      ...(syllables && { syllables }),
      ...(slurStarts !== undefined && { slurStarts }),
      ...(grace && { grace }),
      ...(fingers && { fingers }),
      ...(above !== undefined && { above }),
      ...(signs && { signs }),
    }),
    ...(isLast && {
      ...(slurEnds !== undefined && { slurEnds }),
      ...(fermata && { fermata }),
      ...(beam && { beam }),
    }),
  };
}

/** Whether a note sounds on in the one after it. */
export function isHeldInto(note: Note | undefined, next: Note | undefined): boolean {
  return note?.tie === true && next !== undefined && note.pitches.some((each) => next.pitches.includes(each)); // prettier-ignore
}

/** Indices of the first note of what sounds there and of the one after its last: tied notes are one. */
export function chainAt(notes: readonly Note[], index: number): readonly [number, number] {
  let [from, to] = [index, index + 1];
  while (isHeldInto(notes[from - 1], notes[from])) from -= 1;
  while (isHeldInto(notes[to - 1], notes[to])) to += 1;
  return [from, to];
}

/** Index of the note that a voice holds at a moment, rests among them; −1: none. */
export function indexAt(notes: readonly Note[], at: Ticks): number {
  return notes.findIndex((note) => note.at <= at && at < note.at + note.length);
}

export function untied(note: Note): Note {
  const { tie: _tie, ...rest } = note;
  return rest;
}

export function restOf({ at, length, hidden, tuplet }: Note): Note {
  return {
    at,
    length,
    pitches: [],
    ...(tuplet && { tuplet }),
    ...(hidden && { hidden }),
  };
}

/**
 * Rests that fill a span as they are usually written (common practice): cut at bar lines, to the next felt beat first,
 * then as many beats at once as the place in the bar allows: one, two, four.
 */
export function restsFor(score: Score, { from, to }: Span): Note[] {
  const rests: Note[] = [];
  for (let at = from; at < to;) {
    const bar = inForce(score.bars, at);
    const line = Math.min(to, bar.at + bar.length);
    if (at === bar.at && line === bar.at + bar.length) {
      rests.push({ at, length: line - at, pitches: [] });
      at = line;
      continue;
    }
    const beat = feltBeat(meterAt(score, at));
    const off = (at - bar.at) % beat;
    let next = at + (off === 0 ? beat : beat - off);
    for (let beats = 2; off === 0 && beats <= 8; beats *= 2) {
      if ((at - bar.at) % (beats * beat) === 0 && at + beats * beat <= line) {
        next = at + beats * beat;
      }
    }
    next = Math.min(next, line > at ? line : to);
    rests.push({ at, length: next - at, pitches: [] });
    at = next;
  }
  return rests;
}

export const isPlainRest = ({ pitches, hidden, fermata, syllables, signs, above }: Note): boolean =>
  pitches.length === 0 && !hidden && !fermata && !syllables && !signs && above === undefined;

/** Bars of a span in which nothing but plain rests are left become one rest each. */
export function settleRests(score: Score, notes: readonly Note[], { from, to }: Span): Note[] {
  let result = [...notes];
  for (const bar of score.bars) {
    const end = bar.at + bar.length;
    if (end <= from || bar.at >= to) continue;
    const inside = result.filter(({ at, length }) => at < end && at + length > bar.at);
    const [first, last] = [inside[0], inside.at(-1)];
    if (!first || !last || first.at !== bar.at || last.at + last.length !== end) continue;
    if (inside.length === 1 ? !first.tuplet : false) continue;
    if (!inside.every(isPlainRest)) continue;
    const rest: Note = { at: bar.at, length: bar.length, pitches: [] };
    result = result.flatMap((note) => (note === first ? [rest] : inside.includes(note) ? [] : [note])); // prettier-ignore
  }
  return result;
}

/**
 * A voice with a span of it written anew. A note that began before is cut short; one that lasts beyond leaves rests,
 * also where it is tied on; slurs that began or ended on what goes are taken away.
 */
export function layNotes(
  score: Score,
  notes: readonly Note[],
  span: Span,
  written: readonly Note[],
): Note[] {
  const { from, to } = span;
  const gone = new Set<number>();
  notes.forEach((note, i) => {
    if (note.at >= from && note.at < to) gone.add(i);
  });
  const lastUnder = notes.findLastIndex(({ at, length }) => at < to && at + length > from);
  const [, tailEnd] = lastUnder < 0 ? [0, 0] : chainAt(notes, lastUnder);
  for (let i = lastUnder + 1; i < tailEnd; i += 1) gone.add(i);
  const kept = withoutSlurs(notes, gone);
  const before: Note[] = [];
  const after: Note[] = [];
  kept.forEach((note, i) => {
    const end = note.at + note.length;
    if (end <= from) before.push(end === from ? untied(note) : note);
    else if (note.at >= to)
      after.push(i < tailEnd && lastUnder >= 0 && i > lastUnder ? restOf(untied(note)) : note); // prettier-ignore
    else {
      if (note.at < from) {
        if (note.pitches.length === 0)
          before.push(...cutRest(score, note, { from: note.at, to: from })); // prettier-ignore
        else before.push(untied({ ...note, length: from - note.at }));
      }
      if (end > to) after.push(...cutRest(score, note, { from: to, to: end }));
    }
  });
  return [...before, ...written, ...after];
}

function cutRest(score: Score, note: Note, span: Span): Note[] {
  if (note.pitches.length > 0 || !note.hidden) return restsFor(score, span);
  return [{ at: span.from, length: span.to - span.from, pitches: [], hidden: true }];
}
