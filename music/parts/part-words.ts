import { HAND_CAUTIONS } from '../hand/cautions.ts';
import { sayFinger } from '../hand/note-words.ts';
import { midiOf, type PitchName } from '../pitch/pitch.ts';
import { nameInterval, intervalBetween, sayInterval } from '../pitch/interval.ts';
import { ENGLISH, type Says } from '../pitch/says.ts';
import type { Score } from '../score/score.ts';
import { melodyOf, placeOf } from '../score/time.ts';
import type { HandsPlan, HeldChord } from './hands-plan.ts';
import { INTRODUCTION, sayIntroductionBars, type Introduction } from './form/introduction.ts';

/** A place in the song; bars of the introduction are told apart. */
function sayPlaceIn(score: Score, at: number): string {
  const introduction = score.sections.find(({ id }) => id === INTRODUCTION);
  if (introduction && at < introduction.to) {
    const bars = score.bars.filter((bar) => bar.at <= at).length;
    return `introduction, bar ${bars}`;
  }
  return `bar ${placeOf(score, at).bar}`;
}

/** Where a sung note lies for the hand that holds a shape: `the note under your thumb`, `a step above your top note F4`. */
function sayAgainstShape(
  sung: PitchName,
  shape: { notes: readonly PitchName[]; fingers: readonly number[] },
  says: Says,
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
  return `${far} ${way} your ${says.note(nearest)}`;
}

/** The first sung note, or null. */
function firstSung(song: Score): { at: number; pitch: PitchName } | null {
  const note = melodyOf(song).notes.find(({ pitches }) => pitches.length > 0);
  const pitch = note?.pitches.at(-1);
  return note && pitch ? { at: note.at, pitch } : null;
}

/**
 * What is played before the singing, and what the singers begin on, found from the shape that sounds last before them.
 * @param song without the introduction, which is `length` long; `entry`: where the singers enter, in words
 */
export function sayIntroduction(
  song: Score,
  plan: HandsPlan,
  introduction: Introduction,
  entry: string,
  length: number,
  says: Says = ENGLISH,
): string {
  const sung = firstSung(song);
  const before = plan.held.findLast(({ from }) => from < Math.max(1, length + (sung?.at ?? 0)));
  const shape = (before ?? plan.held[0])?.right;
  const chord = (before ?? plan.held[0])?.chord;
  const start =
    sung && shape && chord
      ? `the singers start on ${says.note(sung.pitch)}, ${sayAgainstShape(sung.pitch, shape, says)} in ${says.chord(chord)}`
      : 'nobody sings in this song';
  const words = introduction.spans.length === 0 ? [start] : [entry, start];
  return [sayIntroductionBars(song, introduction), ...words]
    .filter((each) => each !== '')
    .join('; ');
}

/** For the hands: the widest shape with its place, then the cautions that any player needs. */
export function cautions(score: Score, plan: HandsPlan, says: Says = ENGLISH): string[] {
  const widthOf = ({ right }: HeldChord) =>
    midiOf(right.notes.at(-1) as PitchName) - midiOf(right.notes[0] as PitchName);
  const widest = plan.held.reduce((most, each) => (widthOf(each) > widthOf(most) ? each : most));
  const { notes } = widest.right;
  const span = `The widest shape is ${says.chord(widest.chord)}, ${says.note(notes[0] ?? '')} to ${says.note(notes.at(-1) ?? '')} (${widthOf(widest)} half steps), first in ${sayPlaceIn(score, widest.from)}.`;
  const general = HAND_CAUTIONS.filter(
    ({ id }) => id === 'stretch' || id === 'pain' || id === 'force',
  );
  return [span, ...general.map(({ text }) => text)];
}
