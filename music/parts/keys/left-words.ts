import { midiOf } from '../../pitch/pitch.ts';
import { listed } from '../../score/number-words.ts';
import type { Section } from '../../score/score.ts';
import type { HandLine } from './hand-line.ts';
import type { KeysSong } from './keys-song.ts';

const OCTAVE = 12;
/** Semitones of a diminished, perfect and augmented fifth. */
const FIFTHS: readonly number[] = [6, 7, 8];

/** `left hand: root, fifth and octave, with steps into the next chord`: what it plays in a section, and nothing that it does not. */
export function sayLeft(
  { chords, rungsAt, team }: Pick<KeysSong, 'chords' | 'rungsAt' | 'team'>,
  { notes, held }: Pick<HandLine, 'notes' | 'held'>,
  { from, to }: Pick<Section, 'from' | 'to'>,
): string {
  let [together, octave, fifth, step] = [false, false, false, false];
  for (const { at, pitches } of notes) {
    const low = held[chords.findIndex((each) => at >= each.at && at < each.at + each.length)];
    const [pitch, other] = pitches;
    if (at < from || at >= to || pitch === undefined || low?.notes[0] === undefined) continue;
    const above = midiOf(pitch) - midiOf(low.notes[0]);
    if (other !== undefined) together = true;
    else if (above === OCTAVE) octave = true;
    else if (FIFTHS.includes(above)) fifth = true;
    else if (above !== 0) step = true;
  }
  if (team.roles.includes('bass')) {
    const what = fifth ? 'roots, and the fifth above where there is room' : 'single roots';
    return `left hand: ${what}; the bass has the low notes`;
  }
  const rung = rungsAt(from).left;
  if (rung === 2 && together) return 'left hand: octaves together, where they are written';
  if (rung === 3 && octave) return 'left hand: the low note and its octave in turn';
  const leads = step ? ', with steps into the next chord' : '';
  if (rung < 4 || (!fifth && !octave)) return `left hand: roots${leads}`;
  const tones = ['root', ...(fifth ? ['fifth'] : []), ...(octave ? ['octave'] : [])];
  return `left hand: ${listed(tones)}${leads}`;
}
