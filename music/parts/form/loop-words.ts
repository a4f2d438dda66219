import { transposeNote } from '../../pitch/interval.ts';
import type { Key } from '../../pitch/key.ts';
import { ENGLISH, type Says } from '../../pitch/says.ts';
import { passesOf } from '../../score/form.ts';
import type { Score, Section } from '../../score/score.ts';
import { keyAt } from '../../score/time.ts';

/** Modes whose first, and whose fourth, degree carries a minor chord. */
const MINOR = {
  first: ['minor', 'dorian', 'phrygian', 'locrian'],
  fourth: ['minor', 'phrygian', 'locrian'],
};

/** The chords of an Amen, the plagal close (common practice): `F–C` in C major, `Fm–Cm` in C minor. */
export function sayAmen({ tonic, mode }: Key, says: Says = ENGLISH): string {
  const four = says.note(transposeNote(tonic, { steps: 3, semitones: 5 }));
  const fourth = MINOR.fourth.includes(mode) ? 'm' : '';
  const first = MINOR.first.includes(mode) ? 'm' : '';
  return `${four}${fourth}–${says.note(tonic)}${first}`;
}

/**
 * How an open loop is played and left, for whoever plays it: `repeat softly until: after the prayer; then Amen (F–C)`.
 * Empty for a section that is none.
 */
export function sayLoop(score: Score, section: Section, says: Says = ENGLISH): string {
  if (section.kind !== 'vamp') return '';
  const amen = section.loop?.amen ? `; then Amen (${amenIn(score, section, says)})` : '';
  return `repeat softly until: ${cueOf(section)}${amen}`;
}

function amenIn(score: Score, { from, to }: Section, says: Says): string {
  return sayAmen(keyAt(score, Math.max(from, to - 1)).key, says);
}

/** For the order of passes: `soft loop until after the prayer`. */
export function sayLoopPass(section: Section): string {
  return `soft loop until ${cueOf(section)}`;
}

function cueOf({ loop }: Section): string {
  const cue = loop?.cue.trim().replace(/[.;:,]+$/u, '') ?? '';
  return cue === '' ? 'the leader goes on' : cue;
}

/** Names of the loops that the form has, each once; what they take is not known before. */
export function loopsIn(score: Score): string[] {
  const loops = passesOf(score).filter(({ section }) => section.kind === 'vamp');
  return [...new Set(loops.map(({ section }) => section.name.toLocaleLowerCase()))];
}
