import type { Chord } from '../../pitch/chord.ts';
import type { NoteName } from '../../pitch/pitch.ts';
import type { Ticks } from '../score.ts';
import { sameHarmony, type Candidate } from './candidates.ts';
import type { Problem, Segment } from './problem.ts';
import type { LineNote, Slice, Texture } from './texture.ts';

/** One chord of the full reading, from where it begins to where the next one does. */
export interface Harmony {
  readonly at: Ticks;
  readonly end: Ticks;
  readonly candidate: number;
  /** With its slash bass where that matters; kind `none` where nothing sounds. */
  readonly chord: Chord;
  readonly tones: readonly NoteName[];
  /** A person wrote it. */
  readonly written: boolean;
  /** Stretches [from, to) of the problem. */
  readonly from: number;
  readonly to: number;
}

/** The slices between two moments. */
export function slicesIn(texture: Texture, at: Ticks, end: Ticks): readonly Slice[] {
  return texture.slices.filter((slice) => slice.at >= at && slice.at < end);
}

/**
 * The bass that is written after a slash, or null. The rule: the chord begins on a beat over a note that is not its
 * root, the root does not come into the bass while it lasts, and that first bass is either one of its tones and lies
 * there for at least half of the chord, or is held or repeated under the whole of it (a pedal). A bass that only
 * passes is none of these.
 */
export function slashBass(
  texture: Texture,
  tones: readonly NoteName[],
  at: Ticks,
  end: Ticks,
): NoteName | null {
  const sounding = slicesIn(texture, at, end).filter((slice) => slice.bass !== null);
  const bassOf = (slice: Slice) => (texture.notes[slice.bass as number] as LineNote).name;
  const first = sounding[0];
  if (!first || texture.pulse.strengthAt(at) < 2) return null;
  const bass = bassOf(first);
  if (sounding.some((slice) => bassOf(slice) === tones[0])) return null;
  const lengths = { whole: 0, bass: 0 };
  for (const slice of sounding) {
    lengths.whole += slice.end - slice.at;
    if (bassOf(slice) === bass) lengths.bass += slice.end - slice.at;
  }
  const holds = tones.includes(bass)
    ? 2 * lengths.bass >= lengths.whole
    : lengths.bass === lengths.whole && lengths.whole > texture.pulse.beatAt(at);
  return holds ? bass : null;
}

/** The chords of a reading: neighbours of one harmony joined, each with its bass. */
export function harmoniesOf(problem: Problem, segments: readonly Segment[]): Harmony[] {
  const { texture, candidates } = problem;
  const joined: Segment[] = [];
  for (const segment of segments) {
    const last = joined.at(-1);
    const same =
      last !== undefined &&
      !problem.written.has(last.candidate) &&
      !problem.written.has(segment.candidate) &&
      sameHarmony(chordOf(candidates, last), chordOf(candidates, segment));
    if (last && same) joined[joined.length - 1] = { ...last, to: segment.to };
    else joined.push(segment);
  }
  return joined.map((segment): Harmony => {
    const candidate = candidates[segment.candidate] as Candidate;
    const at = texture.changes[segment.from] as Ticks;
    const end = texture.changes[segment.to] as Ticks;
    const written = problem.written.has(segment.candidate);
    const bass = written ? candidate.chord.bass : slashBass(texture, candidate.tones, at, end);
    return {
      at,
      end,
      candidate: segment.candidate,
      chord: candidate.chord.kind === 'none' ? candidate.chord : { ...candidate.chord, bass },
      tones: candidate.tones,
      written,
      from: segment.from,
      to: segment.to,
    };
  });
}

function chordOf(candidates: readonly Candidate[], segment: Segment): Chord {
  return (candidates[segment.candidate] as Candidate).chord;
}
