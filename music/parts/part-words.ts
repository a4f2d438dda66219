import { HAND_CAUTIONS } from '../hand/cautions.ts';
import { sayFinger, sayPlace } from '../hand/note-words.ts';
import { midiOf, noteOf, type PitchName } from '../pitch/pitch.ts';
import { say as sayChord } from '../pitch/chord-symbol.ts';
import { nameInterval, intervalBetween, sayInterval } from '../pitch/interval.ts';
import { sayNote } from '../pitch/key.ts';
import type { Score, Section } from '../score/score.ts';
import { barAt, barLength, melodyOf, meterAt, placeOf } from '../score/time.ts';
import type { HandsPlan, HeldChord } from './hands-plan.ts';
import { INTRODUCTION, sayBars, type Introduction } from './introduction.ts';
import type { PartShape } from './part.ts';

const NUMBERS = [
  'no',
  'one',
  'two',
  'three',
  'four',
  'five',
  'six',
  'seven',
  'eight',
  'nine',
  'ten',
  'eleven',
  'twelve',
];

export function counted(count: number, one: string, many: string): string {
  return `${NUMBERS[count] ?? count} ${count === 1 ? one : many}`;
}

function times(count: number): string {
  return count === 1 ? 'once' : count === 2 ? 'twice' : counted(count, 'time', 'times');
}

function listed(words: readonly string[]): string {
  if (words.length < 2) return words.join('');
  return `${words.slice(0, -1).join(', ')} and ${words.at(-1) ?? ''}`;
}

/** `beat 3`; between two beats, the one it comes after. */
function sayBeat(beat: number): string {
  const whole = Math.floor(beat);
  if (beat === whole) return `beat ${whole}`;
  return beat - whole === 0.5 ? `the “and” of beat ${whole}` : `a moment after beat ${whole}`;
}

/** A place in the song; bars of the introduction are told apart. */
function sayPlaceIn(score: Score, at: number): string {
  const introduction = score.sections.find(({ id }) => id === INTRODUCTION);
  if (introduction && at < introduction.to) {
    const bars = score.bars.filter((bar) => bar.at <= at).length;
    return `introduction, bar ${bars}`;
  }
  return `bar ${placeOf(score, at).bar}`;
}

/** `four shapes, F B♭ C Dm; at most two fingers move at once (first F to B♭, bar 3); all of it enough for Sunday`. */
export function sumUp(score: Score, plan: HandsPlan, shapes: readonly PartShape[]): string {
  const right = new Map(shapes.map((shape) => [shape.notes.join(' '), sayChord(shape.chord)]));
  const names = [...new Set(shapes.map(({ chord }) => sayChord(chord)))];
  const shown = names.length > 8 ? '' : `, ${names.join(' ')}`;
  let most = 0;
  let where = '';
  plan.moves.forEach((move, i) => {
    const moving = move.to.notes.filter((note) => !move.from.notes.includes(note)).length;
    const to = plan.held[i + 1] as HeldChord;
    if (moving <= most) return;
    most = moving;
    where = `${sayChord((plan.held[i] as HeldChord).chord)} to ${sayChord(to.chord)}, ${sayPlaceIn(score, to.from)}`;
  });
  const moves =
    most === 0
      ? 'the right hand never moves'
      : most === 1
        ? `one note moves at a time (first ${where})`
        : `at most ${counted(most, 'note moves', 'notes move')} at once (first ${where})`;
  return `${counted(right.size, 'shape', 'shapes')}${shown}; ${moves}; all of it enough for Sunday`;
}

function inSection(plan: HandsPlan, section: Section): HeldChord[] {
  return plan.held.filter(({ from, to }) => from < section.to && to > section.from);
}

/** How chords are held in a section: `hold each chord, struck again on every beat 1`; where a bar has more than one. */
function sayHolding(score: Score, section: Section, held: readonly HeldChord[]): string {
  const begun = new Map<number, HeldChord[]>();
  for (const each of held) {
    if (each.from < section.from) continue;
    const bar = barAt(score, each.from).at;
    begun.set(bar, [...(begun.get(bar) ?? []), each]);
  }
  const inside = [...begun]
    .flatMap(([bar, each]) => each.filter(({ from }) => from > bar))
    .map((each) => ({ bar: sayPlaceIn(score, each.from), each }));
  const free = barLength(meterAt(score, section.from)) === null;
  const again = free
    ? 'hold each chord and strike it again at each bar line'
    : 'hold each chord; strike it again on beat 1';
  const first = inside[0];
  if (!first) return again;
  const { beat } = placeOf(score, first.each.from);
  const chord = sayChord(first.each.chord);
  const where = free
    ? `${chord} inside ${first.bar}`
    : `${chord} on ${sayBeat(beat)} of ${first.bar}`;
  const more = inside.length > 1 ? `, ${inside.length - 1} more like it` : '';
  return `${again}; ${inside.length === 1 ? 'one chord changes' : 'some chords change'} inside a bar: ${where}${more}`;
}

/** `left hand, no shift: 5 on F, 2 on B♭, thumb on C`; with shifts, where they are. */
function sayLeft(score: Score, plan: HandsPlan, held: readonly HeldChord[]): string {
  const indexes = held.map((each) => plan.held.indexOf(each));
  const positions = plan.positions.filter(({ from, to }) =>
    indexes.some((index) => index >= from && index <= to),
  );
  const first = positions[0];
  if (!first) return '';
  if (positions.length === 1) {
    const keys = first.keys.filter(({ note }) =>
      held.some(({ left }) => left.notes.includes(note)),
    );
    const fingers = keys.map(
      ({ note, finger }) => `${sayFinger(finger)} on ${sayNote(noteOf(note))}`,
    );
    return `left hand, no shift: ${fingers.join(', ')}`;
  }
  const shifts = positions
    .slice(1)
    .map(({ from }) => sayPlaceIn(score, (plan.held[from] as HeldChord).from));
  const shown = [...new Set(shifts)].slice(0, 4);
  const start = first.keys[0];
  const begin = start
    ? `begin with ${sayFinger(start.finger)} on ${sayPlace(start.note)}`
    : 'begin where you are';
  const rest = shifts.length > shown.length ? ' …' : '';
  return `left hand: ${begin}; it shifts ${times(shifts.length)} (${listed(shown)}${rest})`;
}

/** The rubric of a section, a line each. */
export function directions(score: Score, plan: HandsPlan, section: Section): string[] {
  const held = inSection(plan, section);
  if (held.length === 0) return ['the hands rest'];
  return [sayHolding(score, section, held), sayLeft(score, plan, held)].filter(
    (line) => line !== '',
  );
}

/** Where a sung note lies for the hand that holds a shape: `the note under your thumb`, `a step above your top note F4`. */
function sayAgainstShape(
  sung: PitchName,
  shape: { notes: readonly PitchName[]; fingers: readonly number[] },
): string {
  const same = shape.notes.findIndex((note) => midiOf(note) === midiOf(sung));
  const finger = shape.fingers[same];
  if (finger !== undefined) return `the note under your ${sayFinger(finger)}`;
  const octaves = shape.notes
    .map((note, index) => ({ note, index, apart: midiOf(sung) - midiOf(note) }))
    .find(({ apart }) => apart % 12 === 0);
  if (octaves) {
    const many = Math.abs(octaves.apart) / 12;
    const under = sayFinger(shape.fingers[octaves.index] ?? 1);
    return `${many === 1 ? 'an octave' : `${many} octaves`} ${octaves.apart < 0 ? 'below' : 'above'} the note under your ${under}`;
  }
  const nearest = [...shape.notes].sort(
    (a, b) => Math.abs(midiOf(a) - midiOf(sung)) - Math.abs(midiOf(b) - midiOf(sung)),
  )[0] as PitchName;
  const interval = intervalBetween(nearest, sung);
  const way = interval.semitones < 0 ? 'below' : 'above';
  const far =
    Math.abs(interval.steps) > 1
      ? nameInterval(interval)
          .replace(/^(a|e|i|o)/, 'an $1')
          .replace(/^(?!an )/, 'a ')
      : sayInterval(interval);
  return `${far} ${way} your ${sayNote(nearest)}`;
}

/** The first sung note, or null. */
function firstSung(song: Score): { at: number; pitch: PitchName } | null {
  const note = melodyOf(song).notes.find(({ pitches }) => pitches.length > 0);
  const pitch = note?.pitches.at(-1);
  return note && pitch ? { at: note.at, pitch } : null;
}

/**
 * What is played before the singing, and what the singers begin on, found from the shape that sounds last before them.
 * @param song without the introduction; `score` with it
 */
export function sayIntroduction(
  song: Score,
  plan: HandsPlan,
  introduction: Introduction,
  length: number,
): string {
  const sung = firstSung(song);
  const before = plan.held.findLast(({ from }) => from < Math.max(1, length + (sung?.at ?? 0)));
  const shape = (before ?? plan.held[0])?.right;
  const chord = (before ?? plan.held[0])?.chord;
  const start =
    sung && shape && chord
      ? `the singers start on ${sayNote(sung.pitch)}, ${sayAgainstShape(sung.pitch, shape)} in ${sayChord(chord)}`
      : 'nobody sings in this song';
  if (introduction.spans.length === 0) return `no introduction; ${start}`;
  const bars = introduction.spans.map((span) => sayBars(song, span)).join(', then ');
  const from = introduction.marked ? 'as the source marks it' : 'the last phrase, a proposal';
  return `introduction, ${from}: ${bars}; ${start}`;
}

/** For the hands: the widest shape with its place, then the cautions that any player needs. */
export function cautions(score: Score, plan: HandsPlan): string[] {
  const widthOf = ({ right }: HeldChord) =>
    midiOf(right.notes.at(-1) as PitchName) - midiOf(right.notes[0] as PitchName);
  const widest = plan.held.reduce((most, each) => (widthOf(each) > widthOf(most) ? each : most));
  const { notes } = widest.right;
  const span = `The widest shape is ${sayChord(widest.chord)}, ${sayNote(notes[0] ?? '')} to ${sayNote(notes.at(-1) ?? '')} (${widthOf(widest)} half steps), first in ${sayPlaceIn(score, widest.from)}.`;
  const general = HAND_CAUTIONS.filter(
    ({ id }) => id === 'stretch' || id === 'pain' || id === 'force',
  );
  return [span, ...general.map(({ text }) => text)];
}
