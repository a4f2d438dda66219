import { intervalBetween } from '../pitch/interval.ts';
import { midiOf, type PitchName } from '../pitch/pitch.ts';
import { fingersChanged, stepsOf, type MoveStep } from './move.ts';
import { ENGLISH, type Says } from '../pitch/says.ts';
import { sayDistance, sayFinger, sayKeyName, sayPlace } from './note-words.ts';
import type { Shape } from './shape.ts';

/**
 * A move as a teacher says it: `thumb stays; 3 up a half step, 5 up a step`. The whole of it is
 * said: what stays, which finger takes over a key, how far each finger goes (with the key it lands
 * on where that is more than a step), what joins and what lifts.
 */
export function say(from: Shape, to: Shape, says: Says = ENGLISH): string {
  return saySteps(stepsOf(from, to), says);
}

/** The same after the name of where the hand comes from: `from F: thumb stays; …`. */
export function sayFrom(chord: string, from: Shape, to: Shape, says: Says = ENGLISH): string {
  return `from ${chord}: ${say(from, to, says)}`;
}

/** Where the hand begins: `start here, thumb on middle C`. */
export function sayStart(shape: Shape, says: Says = ENGLISH): string {
  const place = Math.max(0, shape.fingers.indexOf(1));
  const finger = shape.fingers[place] as number;
  return `start here, ${sayFinger(finger)} on ${sayPlace(shape.notes[place] as PitchName, says)}`;
}

export function saySteps(steps: readonly MoveStep[], says: Says = ENGLISH): string {
  if (steps.length === 0) return 'nothing to hold';
  if (steps.every((step) => step.kind === 'stay')) return 'same shape';
  return wholeHand(steps, says) ?? fingerByFinger(steps, says);
}

type Going = Extract<MoveStep, { kind: 'go' }>;

function wholeHand(steps: readonly MoveStep[], says: Says): string | null {
  const first = steps[0];
  if (first?.kind !== 'go' || steps.length < 2 || fingersChanged(steps).length > 0) return null;
  const way = keysBetween(first);
  const all = steps.every((step) => step.kind === 'go' && keysBetween(step) === way);
  return all ? `the whole hand moves ${sayWay(first, says)}, same fingers` : null;
}

function fingerByFinger(steps: readonly MoveStep[], says: Says): string {
  const said: string[] = [];
  const stay = steps.flatMap((step) => (step.kind === 'stay' ? [sayFinger(step.finger)] : []));
  if (stay.length > 0) said.push(`${listed(stay)} ${stay.length === 1 ? 'stays' : 'stay'}`);
  for (const step of steps)
    if (step.kind === 'change')
      said.push(
        `on ${sayKeyName(step.note, says)} the ${sayFinger(step.from)} becomes ${sayFinger(step.finger)}`,
      );
  const ways = sayGoing(
    steps.filter((step) => step.kind === 'go'),
    says,
  );
  if (ways) said.push(ways);
  // Beside a finger that is there a key's name is enough; a hand of new fingers is told where the key is.
  const settled = steps.some((step) => step.kind !== 'take' && step.kind !== 'lift');
  for (const step of steps)
    if (step.kind === 'take') {
      const finger = sayFinger(step.finger);
      const key = settled ? sayKeyName(step.note, says) : sayPlace(step.note, says);
      said.push(
        step.instead === null
          ? `${finger} joins on ${key}`
          : `${finger} instead of ${sayFinger(step.instead)}, on ${key}`,
      );
    }
  const lifts = steps.flatMap((step) => (step.kind === 'lift' ? [sayFinger(step.finger)] : []));
  if (lifts.length > 0) said.push(`${listed(lifts)} ${lifts.length === 1 ? 'lifts' : 'lift'}`);
  return said.join('; ');
}

/** Fingers that go the same way are said together: `thumb and 3 down a half step, 5 up a step`. */
function sayGoing(going: readonly Going[], says: Says): string {
  const groups = new Map<string, Going[]>();
  for (const step of going) {
    const way = isFar(step) ? `${sayWay(step, says)} ` : sayWay(step, says);
    groups.set(way, [...(groups.get(way) ?? []), step]);
  }
  return [...groups]
    .map(([way, steps]) => `${listed(steps.map((step) => sayFinger(step.finger)))} ${way.trim()}`)
    .join(', ');
}

function sayWay(step: Going, says: Says): string {
  const direction = keysBetween(step) > 0 ? 'up' : 'down';
  const way = `${direction} ${sayDistance(step.from, step.to)}`;
  return isFar(step) ? `${way} to ${sayKeyName(step.to, says)}` : way;
}

/** Further than a step, the key's name is said too: a third may be three keys or four. */
function isFar(step: Going): boolean {
  return Math.abs(keysBetween(step)) > 2;
}

function keysBetween(step: Going): number {
  return intervalBetween(step.from, step.to).semitones;
}

function listed(words: readonly string[]): string {
  if (words.length < 3) return words.join(' and ');
  return `${words.slice(0, -1).join(', ')} and ${words.at(-1) ?? ''}`;
}

/** Whether two shapes lie on the same keys under the same fingers. */
export function isSameShape(one: Shape, other: Shape): boolean {
  return (
    one.notes.length === other.notes.length &&
    one.notes.every(
      (note, i) =>
        midiOf(note) === midiOf(other.notes[i] as PitchName) && one.fingers[i] === other.fingers[i],
    )
  );
}
