import type { PlannedMove } from '../hand/right-hand.ts';
import { pitchClassesOf } from '../pitch/chord-symbol.ts';
import type { Chord } from '../pitch/chord.ts';
import { degreeOf } from '../pitch/key.ts';
import { ENGLISH, type Says } from '../pitch/says.ts';
import { midiOf, pitchClassOf, noteOf } from '../pitch/pitch.ts';
import type { Score } from '../score/score.ts';
import { barAt, melodyOf, soundingNotes } from '../score/time.ts';
import type { Change } from './changes.ts';
import { counted, listed, numberWord } from '../score/number-words.ts';
import type { PartShape } from './part.ts';

/** More shapes than this are not all named: the line at the foot is short. */
const MOST_NAMES = 8;

/** `four shapes: F, B♭, C, Dm`. */
export function sayShapes(
  score: Score,
  shapes: readonly PartShape[],
  says: Says = ENGLISH,
): string {
  return nameShapes(score, groupShapes(shapes), says);
}

/** `at most two notes move at once`; empty where whole shapes move, as that says nothing. */
export function sayMoving(changes: readonly Change[]): string {
  const most = Math.max(0, ...changes.map(({ move }) => notesMoving(move)));
  const whole = Math.max(0, ...changes.map(({ move }) => move.to.notes.length));
  if (most === 0) return 'the right hand never moves';
  if (most >= whole) return '';
  if (most === 1) return 'one note moves at a time';
  return `at most ${counted(most, 'note moves', 'notes move')} at once`;
}

/** One shape can serve chords of several names: G and a written G/B. */
function groupShapes(shapes: readonly PartShape[]): Chord[][] {
  const groups = new Map<string, Chord[]>();
  for (const { chord, notes } of shapes) {
    const keys = notes.map(midiOf).join(' ');
    const others = groups.get(keys) ?? [];
    groups.set(keys, chord.bass === null ? [chord, ...others] : [...others, chord]);
  }
  return [...groups.values()];
}

function nameShapes(score: Score, groups: readonly (readonly Chord[])[], says: Says): string {
  const nameGroup = ([first, ...others]: readonly Chord[]): string => {
    const name = first ? says.chord(first) : '';
    return others.length > 0 ? `${name} (also ${others.map(says.chord).join(', ')})` : name;
  };
  const total = counted(groups.length, 'shape', 'shapes');
  if (groups.length <= MOST_NAMES) return `${total}: ${groups.map(nameGroup).join(', ')}`;
  const plain = groups.filter((group) => group.some((chord) => isPlain(score, chord)));
  const others = groups.filter((group) => !plain.includes(group));
  const names = others.slice(0, MOST_NAMES).map(nameGroup).join(', ');
  const left = others.length - MOST_NAMES;
  const more = left > 0 ? ` and ${numberWord(left)} more` : '';
  const main = plain.length > 1 ? 'the main chords' : 'the main chord';
  const first =
    plain.length > 0 ? `${main} of the key, ${listed(plain.map(nameGroup))}, with ` : '';
  return `${total}: ${first}${names}${more}`;
}

/** The triads on the first, fourth and fifth degree: what a beginner has met. */
function isPlain(score: Score, chord: Chord): boolean {
  const key = score.keys[0]?.key;
  if (!key || !['major', 'minor'].includes(chord.kind) || chord.degrees.length > 0) return false;
  const { degree, alter } = degreeOf(key, chord.root);
  return [1, 4, 5].includes(degree) && alter === 0;
}

function notesMoving({ from, to }: PlannedMove): number {
  const before = from.notes.map(midiOf);
  return to.notes.filter((note) => !before.includes(midiOf(note))).length;
}

/**
 * What may be played where a change comes too fast: the chord before goes on where every sung note over the new chord is
 * a tone of it; else the right hand rests, as the left hand's root alone contradicts nothing (common practice).
 */
export function instead(score: Score, { before, after }: Change, says: Says = ENGLISH): string {
  const bar = barAt(score, after.from);
  const tones = pitchClassesOf(before.chord);
  const sung = soundingNotes(melodyOf(score)).filter(
    ({ at, length }) => at < after.to && at + length > after.from,
  );
  const fits =
    sung.length > 0 && sung.every(({ pitch }) => tones.includes(pitchClassOf(noteOf(pitch))));
  if (fits) return `hold ${says.chord(before.chord)} on in bar ${bar.number}`;
  return `leave ${says.chord(after.chord)} to the left hand`;
}
