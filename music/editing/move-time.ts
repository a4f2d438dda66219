import type { KeyAt, MeterAt, Note, Score, Span, Ticks } from '../score/score.ts';
import { changingKeys, changingMeters } from '../score/cuts.ts';
import { changingTempos, temposOf, withTempos, type TempoFrom } from '../score/tempos.ts';
import { endOf, inForce } from '../score/time.ts';
import { isHeldInto, untied } from './lay-notes.ts';
import { withoutSlurs } from './slurs.ts';

/** A score but for its bars: whoever lengthens or shortens it says what its bars are then. */
type InTime = Omit<Score, 'bars'>;

/**
 * Room at a moment, of so many bars' lengths. It belongs to the section that ends there. A note that is held over that
 * moment, in one or by a tie, is held through; the chord before it lasts on.
 */
export function insertTime(score: Score, at: Ticks, lengths: readonly Ticks[]): InTime {
  const added = lengths.reduce((sum, each) => sum + each, 0);
  const later = (time: Ticks): Ticks => (time < at ? time : time + added);
  const laterEnd = (time: Ticks): Ticks => (time <= at ? time : time + added);
  const moved = <T extends { readonly at: Ticks }>(list: readonly T[]): T[] =>
    list.map((each) => (each.at === 0 ? each : { ...each, at: later(each.at) }));
  const isChordThere = score.chords.some((each) => each.at === at) || at === endOf(score);
  const { bars: _bars, ...others } = withTempos(score, moved(temposOf(score)));
  return {
    ...others,
    keys: moved(score.keys),
    meters: moved(score.meters),
    voices: score.voices.map((voice) => ({
      ...voice,
      notes: insertInto(voice.notes, at, lengths, added),
    })),
    chords: score.chords.map((each) => {
      const end = each.at + each.length;
      const isHeld = each.at < at && (end > at || (end === at && isChordThere));
      return { ...each, at: later(each.at), length: each.length + (isHeld ? added : 0) };
    }),
    sections: score.sections.map((section) => ({
      ...section,
      from: section.from === 0 ? 0 : later(section.from),
      to: section.to < at ? section.to : section.to + added,
    })),
    form: score.form,
    introduction: score.introduction.map(({ from, to }) => ({
      from: later(from),
      to: laterEnd(to),
    })),
  };
}

function insertInto(
  notes: readonly Note[],
  at: Ticks,
  lengths: readonly Ticks[],
  added: Ticks,
): Note[] {
  const result: Note[] = [];
  const room = (held: Note | undefined): void => {
    let time = at;
    for (const length of lengths) {
      if (held) result.push({ at: time, length, pitches: held.pitches, tie: true });
      else result.push({ at: time, length, pitches: [] });
      time += length;
    }
  };
  let isOpen = true;
  notes.forEach((note, i) => {
    if (isOpen && note.at >= at) {
      const before = notes[i - 1];
      room(isHeldInto(before, note) ? before : undefined);
      isOpen = false;
    }
    if (note.at >= at) result.push({ ...note, at: note.at + added });
    else if (note.at + note.length > at) {
      result.push({ ...note, length: note.length + added });
      isOpen = false;
    } else result.push(note);
  });
  if (isOpen) room(undefined);
  return result;
}

/** A stretch taken out, with all that lies in it. What was in force where it ended is in force where it began. */
export function removeTime(score: Score, span: Span): InTime {
  const { from, to } = span;
  const taken = to - from;
  const isEnd = to === endOf(score);
  const moved = (time: Ticks): Ticks => Math.min(time, Math.max(from, time - taken));
  const sections = score.sections.flatMap((section) => {
    const left = { ...section, from: moved(section.from), to: moved(section.to) };
    return left.to > left.from ? [left] : [];
  });
  const tempos = seam(temposOf(score), span, isEnd, changingTempos);
  const { bars: _bars, ...others } = withTempos(score, tempos);
  return {
    ...others,
    keys: seam(score.keys, span, isEnd, changingKeys),
    meters: seam(score.meters, span, isEnd, changingMeters),
    voices: score.voices.map((voice) => ({
      ...voice,
      notes: removeFrom(voice.notes, span, moved),
    })),
    chords: score.chords.flatMap((each) => {
      const at = moved(each.at);
      const length = moved(each.at + each.length) - at;
      return length > 0 ? [{ ...each, at, length }] : [];
    }),
    sections,
    form: score.form.filter(({ section }) => sections.some(({ id }) => id === section)),
    introduction: score.introduction.flatMap((each) => {
      const left = { from: moved(each.from), to: moved(each.to) };
      return left.to > left.from ? [left] : [];
    }),
  };
}

/** Keys, meters or tempos after a stretch is gone; one that changes nothing where the ends meet is dropped. */
function seam<T extends KeyAt | MeterAt | TempoFrom>(
  list: readonly T[],
  { from, to }: Span,
  isEnd: boolean,
  changing: (list: readonly T[]) => T[],
): T[] {
  const isTouched = list.some(({ at }) => at >= from && at < to);
  const before = list.filter(({ at }) => at < from);
  const after = list
    .filter(({ at }) => at >= to)
    .map((each) => ({ ...each, at: each.at - to + from }));
  if (isEnd) return before;
  if (!isTouched) return [...before, ...after];
  const first = after[0]?.at === from ? after.shift() : { ...inForce(list, to), at: from };
  const last = before.at(-1);
  const isChange = first !== undefined && (!last || changing([last, first]).length === 2);
  return [...before, ...(isChange ? [first] : []), ...after];
}

function removeFrom(
  notes: readonly Note[],
  { from, to }: Span,
  moved: (time: Ticks) => Ticks,
): Note[] {
  const begins = new Set(notes.flatMap(({ at }, i) => (at >= from && at < to ? [i] : [])));
  const left = withoutSlurs(notes, begins).flatMap((note, i): Note[] => {
    const end = note.at + note.length;
    const at = moved(note.at);
    const length = moved(end) - at;
    if (length <= 0) return [];
    // What began in the stretch sounds on, but its words and signs went with its beginning.
    if (begins.has(i)) {
      const { pitches, tie, tuplet, hidden } = note;
      return [{ at, length, pitches, ...(tie && { tie }), ...(tuplet && { tuplet }), ...(hidden && { hidden }) }]; // prettier-ignore
    }
    const isCut = end > from && end < to;
    return [isCut ? untied({ ...note, at, length }) : { ...note, at, length }];
  });
  return left.map((note, i) => {
    const meets = note.at + note.length === from && note.tie;
    return meets && begins.size > 0 && !isHeldInto(note, left[i + 1]) ? untied(note) : note;
  });
}
