import { plan } from '../../hand/left-hand.ts';
import type { Shape } from '../../hand/shape.ts';
import { tonesOf } from '../../pitch/chord-symbol.ts';
import type { Chord } from '../../pitch/chord.ts';
import {
  LETTERS,
  midiOf,
  noteOf,
  requirePitch,
  type NoteName,
  type PitchName,
} from '../../pitch/pitch.ts';
import { pitchOn } from '../../hand/candidates.ts';
import type { Failure } from '../../result.ts';
import { SINGLE_NOTES } from '../hands-plan.ts';
import type { Rungs } from '../rungs.ts';
import type { KeysSong } from './keys-song.ts';

/** What the left hand has under one chord: its lowest note, and what may be played above that. */
export interface Footing {
  readonly low: PitchName;
  readonly octave: PitchName | null;
  /** Null: under a bass that is not the root, or where the chord has none. */
  readonly fifth: PitchName | null;
  readonly rung: Rungs['left'];
}

/** Where the lower note of an octave lies, so that both are left of the right hand (ours). */
const OCTAVES = { low: 'E1', high: 'G2' } as const;
/** Room for two thumbs between the hands, in semitones, as `LeftHand.plan` has it. */
const ROOM = 3;
const OCTAVE = 12;

/**
 * The notes of the left hand, chord by chord. A hand that does not reach an octave, and a team with a bass player, has
 * single notes.
 * @param right what the right hand holds: the left stays below
 */
export function footings(
  song: KeysSong,
  right: readonly Shape[],
  hasBass: boolean,
): readonly Footing[] | Failure {
  const hasOctaves = song.player.reach >= OCTAVE && !hasBass;
  const rungs = song.chords.map(({ at }) => song.rungsAt(at).left);
  const wide = rungs.map((rung) => rung > 1 && hasOctaves);
  const found: Footing[] = [];
  let from = 0;
  for (let to = 1; to <= wide.length; to += 1) {
    if (to < wide.length && wide[to] === wide[from]) continue;
    const isWide = wide[from] === true;
    const chords = song.chords.slice(from, to).map(({ chord }) => chord);
    const planned = plan(chords, {
      register: isWide ? OCTAVES : SINGLE_NOTES[hasBass ? 'with a bass' : 'alone'],
      right: right.slice(from, to).map(({ notes }) => notes),
      gap: ROOM + (isWide ? OCTAVE : 0),
    });
    if (!planned.ok) return planned;
    planned.notes.forEach(([low = 'C3'], i) => {
      const chord = chords[i] as Chord;
      const top = Math.min(...(right[from + i]?.notes ?? []).map(midiOf)) - ROOM;
      found.push({
        low,
        octave: isWide ? up(low, OCTAVE) : null,
        fifth: fifthOver(chord, low, top),
        rung: rungs[from + i] ?? 1,
      });
    });
    from = to;
  }
  return found;
}

/** The same letter, so many semitones above. */
const up = (pitch: PitchName, semitones: number): PitchName =>
  pitchOn(noteOf(pitch), midiOf(pitch) + semitones);

function fifthOver(chord: Chord, low: PitchName, top: number): PitchName | null {
  if (chord.bass !== null && chord.bass !== chord.root) return null;
  const letter = (note: NoteName) => LETTERS.indexOf(requirePitch(`${note}4`).letter);
  const note = tonesOf(chord).find((tone) => (letter(tone) - letter(chord.root) + 7) % 7 === 4);
  if (note === undefined) return null;
  const key = midiOf(low) + ((((midiOf(`${note}4`) - midiOf(low)) % 12) + 12) % 12);
  return key <= top ? pitchOn(note, key) : null;
}

/** The lowest note is under the little finger, the octave under the thumb, the fifth between (common practice). */
export function shapeOf({ low, octave, rung }: Footing, fingers: readonly number[]): Shape {
  return octave !== null && rung > 1
    ? { notes: [low, octave], fingers: [5, 1] }
    : { notes: [low], fingers };
}
