import { pitchClassOf, pitchName, requirePitch } from '../pitch/pitch.ts';
import type { Letter, NoteName, PitchName } from '../pitch/pitch.ts';
import { ofShape } from './fingering.ts';
import type { Shape } from './shape.ts';

/** Within these keys, low and high included, and no wider than this. Semitones, C4 = 60. */
export interface Bounds {
  readonly low: number;
  readonly high: number;
  /** From the lowest to the highest note of a shape. */
  readonly reach: number;
}

/** Every shape of a chord within bounds, from the lowest up, laid out flat for computing. */
export interface Candidates {
  readonly tones: readonly NoteName[];
  readonly count: number;
  /** Notes of each shape. */
  readonly size: number;
  /** Semitones of shape c: `keys[c * size]` … ascending. */
  readonly keys: Int16Array;
  /** Fingers of shape c, likewise. */
  readonly fingers: Uint8Array;
  /** The fingers of shape c as bits. */
  readonly hands: Uint8Array;
  /** The same with names, as the chord spells them. */
  readonly shapes: readonly Shape[];
}

/**
 * Every set of keys within bounds that sounds each tone once; the tones all different keys of the
 * octave.
 */
export function candidatesOf(tones: readonly NoteName[], bounds: Bounds): Candidates {
  const size = tones.length;
  const classes = tones.map(pitchClassOf);
  const found: number[][] = [];
  const chosen: number[] = [];
  const grow = (from: number, top: number, open: number): void => {
    if (open === 0) {
      found.push([...chosen]);
      return;
    }
    for (let key = from; key <= top; key++) {
      const tone = classes.indexOf(key % 12);
      if (tone < 0 || !(open & (1 << tone))) continue;
      chosen.push(key);
      grow(
        key + 1,
        chosen.length === 1 ? Math.min(top, key + bounds.reach) : top,
        open ^ (1 << tone),
      );
      chosen.pop();
    }
  };
  if (size > 0) grow(Math.max(0, bounds.low), bounds.high, (1 << size) - 1);
  return fingered(tones, found);
}

/** The fingers of a shape are the same an octave higher, so each is worked out once. */
function fingered(tones: readonly NoteName[], found: readonly (readonly number[])[]): Candidates {
  const size = tones.length;
  const known = new Map<string, readonly number[]>();
  const shapes = found.map((keys): Shape => {
    const notes = spelled(tones, keys);
    const lowest = keys[0] as number;
    const form = [lowest % 12, ...keys.map((key) => key - lowest)].join(' ');
    const fingers = known.get(form) ?? ofShape(notes, 'right');
    known.set(form, fingers);
    return { notes, fingers };
  });
  return {
    tones,
    count: found.length,
    size,
    keys: Int16Array.from(found.flat()),
    fingers: Uint8Array.from(shapes.flatMap((shape) => shape.fingers)),
    hands: Uint8Array.from(shapes, (shape) =>
      shape.fingers.reduce((bits, finger) => bits | (1 << finger), 0),
    ),
    shapes,
  };
}

function spelled(tones: readonly NoteName[], keys: readonly number[]): PitchName[] {
  const classes = tones.map(pitchClassOf);
  return keys.map((key) => pitchOn(tones[classes.indexOf(key % 12)] as NoteName, key));
}

/** The pitch of a note name on a key: `Cb` on 71 is `Cb5`, `B#` on 60 is `B#3`. */
export function pitchOn(note: NoteName, key: number): PitchName {
  const { alter } = requirePitch(`${note}4`);
  return pitchName(note.charAt(0) as Letter, alter, Math.floor((key - alter) / 12) - 1);
}
