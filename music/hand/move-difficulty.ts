import { sayNote } from '../pitch/key.ts';
import { midiOf, noteOf, type PitchName } from '../pitch/pitch.ts';
import { sayBeats } from '../score/beat-words.ts';
import type { Tempo } from '../score/score.ts';
import { WEIGHTS, UNHURRIED_SECONDS } from './difficulty-weights.ts';
import { stepsOf, type MoveStep } from './move.ts';
import { sayFinger } from './note-words.ts';
import { isBlackKey, type Shape } from './shape.ts';
import { holdingCost } from './spans.ts';

export type DifficultyKind =
  | 'fingers changed'
  | 'fingers to move'
  | "thumb's way"
  | 'contrary motion'
  | 'black keys'
  | 'stretch'
  | 'left hand'
  | 'time';

export interface DifficultyItem {
  readonly what: DifficultyKind;
  readonly words: string;
  /** 0 and up; comparable between moves, otherwise without a unit. */
  readonly cost: number;
}

export interface MoveDifficulty {
  /** The sum of the items. */
  readonly total: number;
  readonly items: readonly DifficultyItem[];
}

/** Beats a minute, or a tempo with its own beat; null: unknown, so that time is not counted. */
export type Pace = number | Tempo | null;

/**
 * How hard it is to go from one shape to the next: not how far. `beats`: beats of the tempo from
 * the moment the first shape is played to the moment the next must sound; above 0. Weights:
 * `difficulty-weights.ts`, ours. The same shape again costs nothing. More time never makes a move
 * harder, and one more finger to change never easier.
 */
export function ofMove(from: Shape, to: Shape, beats: number, tempo: Pace): MoveDifficulty {
  if (!(beats > 0)) throw new RangeError(`a move takes some beats, not ${beats}`);
  const steps = stepsOf(from, to);
  if (steps.every((step) => step.kind === 'stay')) return { total: 0, items: [] };
  const items = [
    changed(steps),
    moved(steps),
    thumb(steps),
    contrary(steps),
    black(steps),
    stretch(to),
  ].filter((item) => item.cost > 0);
  const hurry = time(sum(items), beats, tempo);
  if (hurry.cost > 0) items.push(hurry);
  return { total: sum(items), items };
}

export function sum(items: readonly DifficultyItem[]): number {
  return hundredths(items.reduce((total, item) => total + item.cost, 0));
}

function hundredths(cost: number): number {
  return Math.round(cost * 100) / 100;
}

function item(what: DifficultyKind, words: readonly string[], cost: number): DifficultyItem {
  return { what, words: words.join(', '), cost: hundredths(cost) };
}

function changed(steps: readonly MoveStep[]): DifficultyItem {
  const words: string[] = [];
  let cost = 0;
  for (const step of steps) {
    if (step.kind === 'change') {
      words.push(`${sayFinger(step.finger)} takes over from ${sayFinger(step.from)}`);
      cost += WEIGHTS.changes;
    } else if (step.kind === 'take') {
      const instead = step.instead === null ? 'joins' : `instead of ${sayFinger(step.instead)}`;
      words.push(`${sayFinger(step.finger)} ${instead}`);
      cost += WEIGHTS.takes;
    } else if (step.kind === 'lift') {
      words.push(`${sayFinger(step.finger)} lifts`);
      cost += WEIGHTS.lifts;
    }
  }
  return item('fingers changed', words, cost);
}

type Going = Extract<MoveStep, { kind: 'go' }>;

function going(steps: readonly MoveStep[]): Going[] {
  return steps.filter((step) => step.kind === 'go');
}

function way(step: Going): number {
  return midiOf(step.to) - midiOf(step.from);
}

function moved(steps: readonly MoveStep[]): DifficultyItem {
  const words = going(steps).map((step) => `${sayFinger(step.finger)} to ${key(step.to)}`);
  return item('fingers to move', words, words.length * WEIGHTS.goes);
}

function thumb(steps: readonly MoveStep[]): DifficultyItem {
  const semitones = going(steps).reduce(
    (most, step) => (step.finger === 1 ? Math.abs(way(step)) : most),
    0,
  );
  const words = `the thumb travels ${semitones} ${semitones === 1 ? 'semitone' : 'semitones'}`;
  return item("thumb's way", [words], semitones * WEIGHTS.thumbSemitone);
}

function contrary(steps: readonly MoveStep[]): DifficultyItem {
  const up = going(steps).filter((step) => way(step) > 0);
  const down = going(steps).filter((step) => way(step) < 0);
  const names = (list: readonly Going[]) =>
    list.map((step) => sayFinger(step.finger)).join(' and ');
  const words = `${names(up)} up while ${names(down)} ${down.length === 1 ? 'goes' : 'go'} down`;
  return item('contrary motion', [words], Math.min(up.length, down.length) * WEIGHTS.contrary);
}

/** Only a finger that arrives there: one that stays has already found it. */
function black(steps: readonly MoveStep[]): DifficultyItem {
  const words: string[] = [];
  let cost = 0;
  for (const step of steps) {
    if (step.kind === 'stay' || step.kind === 'lift') continue;
    const note = step.kind === 'go' ? step.to : step.note;
    if (!isBlackKey(midiOf(note)) || (step.finger !== 1 && step.finger !== 5)) continue;
    words.push(`${sayFinger(step.finger)} on the black key ${key(note)}`);
    cost += step.finger === 1 ? WEIGHTS.thumbOnBlack : WEIGHTS.littleOnBlack;
  }
  return item('black keys', words, cost);
}

function stretch(to: Shape): DifficultyItem {
  const words: string[] = [];
  let cost = 0;
  for (let i = 1; i < to.notes.length; i++) {
    const [low, high] = [to.notes[i - 1] as PitchName, to.notes[i] as PitchName];
    const [one, other] = [to.fingers[i - 1] as number, to.fingers[i] as number];
    const here = holdingCost(one, other, midiOf(high) - midiOf(low));
    if (here === 0) continue;
    words.push(`${key(low)} and ${key(high)} under ${sayFinger(one)} and ${sayFinger(other)}`);
    cost += here * WEIGHTS.stretch;
  }
  return item('stretch', words, cost);
}

function time(base: number, beats: number, tempo: Pace): DifficultyItem {
  if (tempo === null) return item('time', [], 0);
  const seconds = secondsOf(beats, tempo);
  return item('time', [sayTime(beats, tempo)], base * Math.max(0, UNHURRIED_SECONDS / seconds - 1));
}

export function secondsOf(beats: number, tempo: number | Tempo): number {
  return (beats * 60) / (typeof tempo === 'number' ? tempo : tempo.perMinute);
}

/** `2 beats at 80 a minute: 1.5 seconds`, `a third of a beat at …`; `2 beats` where the tempo is unknown. */
export function sayTime(beats: number, tempo: Pace): string {
  const isWhole = Number.isInteger(beats);
  const count = isWhole ? `${beats} ${beats === 1 ? 'beat' : 'beats'}` : sayBeats(beats);
  if (tempo === null) return count;
  const seconds = Math.round(secondsOf(beats, tempo) * 10) / 10;
  const perMinute = typeof tempo === 'number' ? tempo : tempo.perMinute;
  return `${count} at ${perMinute} a minute: ${seconds} ${seconds === 1 ? 'second' : 'seconds'}`;
}

function key(pitch: PitchName): string {
  return sayNote(noteOf(pitch));
}
