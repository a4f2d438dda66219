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
}

/** Every set of keys within bounds that sounds each tone once; the tones all different keys of the octave. */
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
function fingered(tones: readonly NoteName[], shapes: readonly (readonly number[])[]): Candidates {
  const size = tones.length;
  const count = shapes.length;
  const candidates = {
    tones,
    count,
    size,
    keys: new Int16Array(count * size),
    fingers: new Uint8Array(count * size),
    hands: new Uint8Array(count),
  };
  const known = new Map<string, readonly number[]>();
  shapes.forEach((keys, c) => {
    const lowest = keys[0] as number;
    const form = keys.map((key) => key - lowest + (key === lowest ? lowest % 12 : 0)).join(' ');
    const fingers = known.get(form) ?? ofShape(spelled(tones, keys), 'right');
    known.set(form, fingers);
    candidates.keys.set(keys, c * size);
    candidates.fingers.set(fingers, c * size);
    candidates.hands[c] = fingers.reduce((bits, finger) => bits | (1 << finger), 0);
  });
  return candidates;
}

/** A shape with its names, as the chord spells them. */
export function shapeAt(candidates: Candidates, c: number): Shape {
  const { size } = candidates;
  const keys = Array.from(candidates.keys.subarray(c * size, (c + 1) * size));
  return {
    notes: spelled(candidates.tones, keys),
    fingers: Array.from(candidates.fingers.subarray(c * size, (c + 1) * size)),
  };
}

function spelled(tones: readonly NoteName[], keys: readonly number[]): PitchName[] {
  return keys.map((key) => {
    const tone = tones.find((each) => pitchClassOf(each) === key % 12) as NoteName;
    return pitchOn(tone, key);
  });
}

/** The pitch of a note name on a key: `Cb` on 71 is `Cb5`, `B#` on 60 is `B#3`. */
export function pitchOn(note: NoteName, key: number): PitchName {
  const { alter } = requirePitch(`${note}4`);
  return pitchName(note.charAt(0) as Letter, alter, Math.floor((key - alter) / 12) - 1);
}
