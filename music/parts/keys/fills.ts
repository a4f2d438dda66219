import { ofLine } from '../../hand/fingering.ts';
import type { Shape } from '../../hand/shape.ts';
import { midiOf, type PitchName } from '../../pitch/pitch.ts';
import { scaleOf } from '../../pitch/key.ts';
import { QUARTER, type Note, type Score, type Ticks } from '../../score/score.ts';
import { barAt, feltBeat, keyAt, meterAt } from '../../score/time.ts';
import { sayBarList } from '../bar-list.ts';
import { fillBetween, isHalfStep } from './fill-notes.ts';
import {
  isCut,
  phraseEndsOf,
  placeBefore,
  shorter,
  type FillPlace,
  type PhraseEnd,
} from './fill-places.ts';
import type { HandLine, HandRemark } from './hand-line.ts';
import type { KeysSong } from './keys-song.ts';

/** Single notes in the place of what a hand would strike before it strikes a chord, or carries the tune. */
interface Fill {
  readonly from: Ticks;
  readonly to: Ticks;
  readonly notes: readonly Note[];
  /** What the hand holds from `to` on, where it has moved to get there. */
  readonly goal: Shape | null;
}

/** What a fill sets out from. */
interface Top {
  readonly pitch: PitchName;
  readonly finger: number | null;
  /** Struck by itself, as the tune is carried. */
  readonly isSingle: boolean;
}

/** The widest way between notes of a chord in turn: a fifth (ours). */
const WIDEST = 7;

/**
 * The right hand's notes with small fills on the fourth rung, where the tune waits at the end of a phrase (`phraseEndsOf`):
 * in the felt beat before a new chord single notes lead by steps of the scale to its top note; where the chord goes on, its own notes
 * come in turn from below before the hand strikes again with the tune, unless it breaks its chords anyway. Shorter where
 * there is less room. None in two bars in a row, none where a section or a repeat ends and something else may
 * follow; none that is a half step away from what is sung. Their bars are named, as they may be left out.
 * @param line with the fingers that its shapes have in the whole part
 */
export function withFills(song: KeysSong, line: HandLine): HandLine {
  if (song.chords.every(({ at }) => song.rungsAt(at).right < 4)) return line;
  let notes = line.notes;
  const fills: Fill[] = [];
  for (const end of phraseEndsOf(song.score)) {
    const fill = fillAt(song, line.held, notes, end);
    if (!fill || isNeighbour(song.score, fills.at(-1), fill)) continue;
    notes = placed(notes, fill);
    fills.push(fill);
  }
  return { ...line, notes, remarks: [...line.remarks, ...remarksOf(song.score, fills)] };
}

function isNeighbour({ bars }: Score, before: Fill | undefined, { from }: Fill): boolean {
  const indexOf = (at: Ticks) => bars.findLastIndex((bar) => bar.at <= at);
  return before !== undefined && indexOf(from) - indexOf(before.from) < 2;
}

function fillAt(
  { score, chords, rungsAt, textureAt }: KeysSong,
  held: readonly Shape[],
  notes: readonly Note[],
  end: PhraseEnd,
): Fill | null {
  // The chord that sounds when the tune is about to go on, or the last one that gives way to another before.
  const chord = chords.findLastIndex(({ at }) => at < end.next);
  const whole = wayTo(chord);
  if (whole) return whole;
  const before = chords[chord];
  return before && before.at > end.sung.at ? wayTo(chord - 1) : null;

  function wayTo(index: number): Fill | null {
    const [here, shape] = [chords[index], held[index]];
    if (!here || !shape || rungsAt(here.at).right < 4) return null;
    const [last, goal] = [here.at + here.length, held[index + 1]];
    const goesOn = end.next < last;
    const place = placeBefore(score, end, goesOn ? end.next : last);
    if (!place || place.from <= here.at || !isWhole(shape, notes, here.at, place.from)) return null;
    if (goesOn) {
      if (textureAt(here.at) === 'broken') return null;
      return inTurn(shape, notes, place);
    }
    const next = chords[index + 1];
    const beat = feltBeat(meterAt(score, last - 1));
    if (!goal || next?.at !== last || rungsAt(last).right < 4 || isCut(score, last)) return null;
    if (here.length < 2 * beat) return null;
    return bySteps(score, goal, place, topBefore(shape, notes, place.from));
  }
}

/** What is sung while a fill is played; null: nothing. */
const sungIn = ({ sung, from }: FillPlace) => (sung.at + sung.length > from ? sung.pitch : null);

/** The highest note that the hand struck last before a moment, with its finger. */
function topBefore(shape: Shape, notes: readonly Note[], at: Ticks): Top {
  const struck = notes.findLast((note) => note.at < at && note.pitches.length > 0);
  const pitch = struck?.pitches.at(-1) ?? shape.notes.at(-1) ?? '';
  const finger = struck?.fingers?.at(-1) ?? shape.fingers[shape.notes.indexOf(pitch)];
  return { pitch, finger: finger ?? null, isSingle: struck?.pitches.length === 1 };
}

/** After a single note a fill goes on to another one, a fifth away at most. */
function leadsOn({ pitch, isSingle }: Top, [first = pitch]: readonly PitchName[]): boolean {
  const way = Math.abs(midiOf(first) - midiOf(pitch));
  return !isSingle || (way > 0 && way <= WIDEST);
}

/** By the scale to the top note of the next chord, in as many notes as there is room for, else in fewer. */
function bySteps(score: Score, goal: Shape, place: FillPlace, before: Top): Fill | null {
  for (let { count } = place; count > 0; count -= 1) {
    const own = shorter(place, count);
    const pitches = fillBetween({
      from: before.pitch,
      to: goal.notes.at(-1) ?? '',
      count,
      scale: scaleOf(keyAt(score, own.from).key),
      sung: sungIn(own),
    });
    if (pitches && leadsOn(before, pitches))
      return filled(own, pitches, fingersOf(before, pitches, goal), goal);
  }
  return null;
}

/** The notes of the shape just below what the hand strikes next, low to high. */
function inTurn(shape: Shape, struck: readonly Note[], place: FillPlace): Fill | null {
  const next = struck.find(({ at, pitches }) => at === place.to && pitches.length > 0);
  const goal = next?.pitches.at(-1);
  if (goal === undefined) return null;
  const sung = sungIn(place);
  const below = shape.notes.filter(
    (note) =>
      midiOf(note) < midiOf(goal) && (sung === null || !isHalfStep(midiOf(note), midiOf(sung))),
  );
  const near = below.filter((_, i) => {
    const way = [...below.slice(i), goal].map(midiOf);
    return way.every((key, at) => at === 0 || key - (way[at - 1] ?? key) <= WIDEST);
  });
  const pitches = near.slice(-place.count);
  const before = topBefore(shape, struck, place.from);
  if (pitches.length === 0 || !leadsOn(before, pitches)) return null;
  // Where the tune goes on outside the shape the hand goes there in a line.
  const fingers = shape.notes.includes(goal)
    ? pitches.map((pitch) => shape.fingers[shape.notes.indexOf(pitch)] ?? 3)
    : fingersOf(before, pitches, { notes: [goal], fingers: [next?.fingers?.at(-1) ?? 5] });
  return filled(shorter(place, pitches.length), pitches, fingers, null);
}

function filled(
  { from, to, count }: FillPlace,
  pitches: readonly PitchName[],
  fingers: readonly number[],
  goal: Shape | null,
): Fill {
  const part = (to - from) / count;
  const notes = pitches.map((pitch, i): Note => ({
    at: from + i * part,
    length: part,
    pitches: [pitch],
    fingers: [fingers[i] ?? 3],
    soft: true,
    ...(part < QUARTER && i < count - 1 ? { beam: true as const } : {}),
  }));
  return { from, to, notes, goal };
}

/** Ways to finger a line of a few notes that are looked through: all that are any good. */
const WAYS = 40;

/**
 * By the rules for lines, from the finger on the top note before. From below it goes on to the finger on the top note that
 * it comes to; coming down onto a little finger the hand is put anew with the chord. Where the hand has to move at once,
 * the finger before is let go.
 */
function fingersOf(from: Top, pitches: readonly PitchName[], to: Shape): readonly number[] {
  const [before, after] = [from.pitch, to.notes.at(-1) ?? ''];
  const isRising = midiOf(pitches.at(-1) ?? after) < midiOf(after);
  const line = [before, ...pitches, ...(isRising ? [after] : [])];
  const free = pitches.map(() => null);
  const end = isRising ? [to.fingers.at(-1) ?? null] : [];
  const ways = ofLine(line, 'right', {
    fixed: [from.finger, ...free, ...end],
    most: WAYS,
  });
  const whole = ways.find(({ fingers }) => isInTurn(line, fingers));
  if (whole) return whole.fingers.slice(1, pitches.length + 1);
  const anew = ofLine(line.slice(1), 'right', { fixed: [...free, ...end], most: WAYS });
  const inTurn = anew.filter(({ fingers }) => isInTurn(line.slice(1), fingers));
  const other = inTurn.find(({ fingers }) => isInTurn(line, [from.finger ?? 0, ...fingers]));
  const own = other ?? inTurn[0] ?? anew[0];
  return own?.fingers.slice(0, pitches.length) ?? [];
}

/** One finger on a note that is repeated, another on any other. */
function isInTurn(line: readonly PitchName[], fingers: readonly number[]): boolean {
  return line.every((pitch, i) => {
    const before = line[i - 1];
    if (before === undefined) return true;
    return (midiOf(before) === midiOf(pitch)) === (fingers[i - 1] === fingers[i]);
  });
}

/** Whether every note of the shape has been struck before the fill. */
function isWhole({ notes }: Shape, struck: readonly Note[], from: Ticks, to: Ticks): boolean {
  const before = struck.filter(({ at }) => at >= from && at < to);
  return notes.every((note) => before.some(({ pitches }) => pitches.includes(note)));
}

/** What was struck gives place to a fill; a next shape shows its fingers again, as the hand has moved. */
function placed(struck: readonly Note[], fill: Fill): Note[] {
  const { goal } = fill;
  const before = struck
    .filter(({ at }) => at < fill.from)
    .map((note) => {
      if (note.at + note.length < fill.from) return note;
      const { beam: _, ...rest } = note;
      return { ...rest, length: Math.min(note.length, fill.from - note.at) };
    });
  const after = struck.filter(({ at }) => at >= fill.to);
  const next = after.find(({ pitches }) => pitches.length > 0);
  return [
    ...before,
    ...fill.notes,
    ...after.map((note) =>
      goal && note === next ? { ...note, fingers: fingersIn(goal, note) } : note,
    ),
  ];
}

/** The fingers of a shape on those of its notes that are struck. */
function fingersIn(shape: Shape, { pitches }: Note): number[] {
  return pitches.map((pitch) => shape.fingers[shape.notes.indexOf(pitch)] ?? 3);
}

function remarksOf(score: Score, fills: readonly Fill[]): HandRemark[] {
  return score.sections.flatMap((section): HandRemark[] => {
    const here = fills.filter(({ from }) => from >= section.from && from < section.to);
    if (here.length === 0) return [];
    const bars = sayBarList(here.map(({ from }) => barAt(score, from)));
    return [{ at: section.from, words: `the fills in ${bars} may be left out` }];
  });
}
