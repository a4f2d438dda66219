import { settledOfPart } from '../../hand/fingering.ts';
import type { Hand, Shape } from '../../hand/shape.ts';
import { midiOf } from '../../pitch/pitch.ts';
import type { Note, Ticks } from '../../score/score.ts';
import { gripsOf, type Grip } from './grips.ts';
import type { HandLine } from './hand-line.ts';
import type { KeysSong } from './keys-song.ts';

export interface TwoHands {
  readonly right: HandLine;
  readonly left: HandLine;
}

/** Both hands with the fingers of their whole parts (see `lineWithFingers`). */
export function withFingers(song: KeysSong, { right, left }: TwoHands): TwoHands {
  return {
    right: lineWithFingers(song, 'right', right),
    left: lineWithFingers(song, 'left', left),
  };
}

/**
 * A hand's line with the easiest fingers for the whole of it (`Fingering.settledOfPart`): a shape has the same fingers
 * wherever it comes, and what is held under a chord has those that stand under its notes. They stand on a note where it is
 * first struck after the hand has moved, and again after a rest and where a section begins.
 */
export function lineWithFingers(song: KeysSong, hand: Hand, line: HandLine): HandLine {
  const grips = gripsOf(song, hand, line);
  const fingers = fingersOf(grips, hand);
  const starts = new Set(song.score.sections.map(({ from }) => from));
  const notes = shown(line.notes, grips, fingers, starts);
  const held = line.held.map((shape, chord): Shape => {
    const { at = 0, length = 0 } = song.chords[chord] ?? {};
    const place = line.notes.findIndex(
      (note, i) => note.at >= at && note.at < at + length && onGrip(grips[i], fingers[i], shape),
    );
    const own = onGrip(grips[place], fingers[place], shape);
    return own ? { ...shape, fingers: own } : shape;
  });
  return { ...line, notes, held };
}

/** For each note the fingers of its grip; what is played on without moving is asked for once. */
function fingersOf(
  grips: readonly (Grip | null)[],
  hand: Hand,
): readonly (readonly number[] | undefined)[] {
  const strikes: Grip[] = [];
  const places = grips.map((grip) => {
    const last = strikes.at(-1);
    if (grip && !(last && isSameGrip(last, grip))) strikes.push(grip);
    return grip ? strikes.length - 1 : -1;
  });
  const way = settledOfPart(
    strikes.map(({ notes }) => notes),
    hand,
    { given: strikes.map(({ given }) => given) },
  );
  return places.map((place) => way.fingers[place]);
}

/** A key that is struck again keeps its finger, in another chord too. */
const isSameGrip = (one: Grip, other: Grip): boolean =>
  one === other || (one.notes.length === 1 && signOf(one) === signOf(other));

const signOf = ({ notes, given }: Grip): string =>
  `${notes.map(midiOf).join()}: ${given?.join() ?? ''}`;

/** The fingers of a grip on the notes of a shape; null where it has not all of them. */
function onGrip(
  grip: Grip | null | undefined,
  fingers: readonly number[] | undefined,
  { notes }: Pick<Shape, 'notes'>,
): number[] | null {
  const keys = grip?.notes.map(midiOf) ?? [];
  const own = notes.map((note) => fingers?.[keys.indexOf(midiOf(note))] ?? 0);
  return own.includes(0) ? null : own;
}

function shown(
  notes: readonly Note[],
  grips: readonly (Grip | null)[],
  fingers: readonly (readonly number[] | undefined)[],
  starts: ReadonlySet<Ticks>,
): Note[] {
  let last = '';
  let seen = new Map<number, number>();
  return notes.map((note, i): Note => {
    const [grip, own] = [grips[i] ?? null, onGrip(grips[i], fingers[i], { notes: note.pitches })];
    const place = grip ? placeOf(grip) : '';
    if (place !== last || starts.has(note.at)) seen = new Map();
    last = place;
    if (!grip || !own) return note;
    const keys = note.pitches.map(midiOf);
    const isSeen = keys.every((key, at) => seen.get(key) === own[at]);
    keys.forEach((key, at) => seen.set(key, own[at] ?? 0));
    const { fingers: _, ...rest } = note;
    return isSeen ? rest : { ...rest, fingers: own };
  });
}

/** Keys that are played without moving: where they are others, fingers stand again. */
const placeOf = ({ notes, given, place = notes }: Grip): string =>
  `${[...new Set(place.map(midiOf))].sort((a, b) => a - b).join(' ')}: ${place === notes ? (given?.join(' ') ?? '') : ''}`;
