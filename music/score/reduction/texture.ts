import { requirePitch, noteOf, type NoteName, type PitchName } from '../../pitch/pitch.ts';
import type { Score, Ticks } from '../score.ts';
import { barLength, endOf, meterAt, soundingNotes, unitTicks } from '../time.ts';
import { attacksOf, pulseOf, type Pulse, type Strength } from './pulse.ts';

/** How a voice comes to a note or goes from it: the same pitch, a step (a letter away), a leap, or silence. */
export type Motion = 'same' | 'step up' | 'step down' | 'leap up' | 'leap down' | 'none';

/** A sounding note (ties joined) as a member of its voice's line. */
export interface LineNote {
  readonly voice: string;
  readonly at: Ticks;
  readonly end: Ticks;
  readonly pitch: PitchName;
  readonly name: NoteName;
  readonly approach: Motion;
  readonly departure: Motion;
  /** The notes before and after in the line, where no rest stands between. */
  readonly before: number | null;
  readonly after: number | null;
}

/** A stretch in which nothing begins or ends. */
export interface Slice {
  readonly at: Ticks;
  readonly end: Ticks;
  readonly strength: Strength;
  /** Indexes into `notes`. */
  readonly sounding: readonly number[];
  /** Index of the lowest of them; null in silence. */
  readonly bass: number | null;
}

/** A score as harmony sees it. */
export interface Texture {
  readonly score: Score;
  readonly pulse: Pulse;
  readonly notes: readonly LineNote[];
  readonly slices: readonly Slice[];
  /** Moments at which the chord may change, in order, from the first bar to the end of the last. */
  readonly changes: readonly Ticks[];
  /** Voices that sound at all. */
  readonly voices: number;
}

export function motion(from: PitchName | null, to: PitchName | null): Motion {
  if (from === null || to === null) return 'none';
  const [a, b] = [requirePitch(from), requirePitch(to)];
  const steps = b.step - a.step;
  if (steps === 0) {
    // A chromatic half step keeps its letter: F to F sharp goes on as a step.
    if (b.midi === a.midi) return 'same';
    return b.midi > a.midi ? 'step up' : 'step down';
  }
  const size = Math.abs(steps) === 1 ? 'step' : 'leap';
  return steps > 0 ? `${size} up` : `${size} down`;
}

type Draft = Omit<LineNote, 'approach' | 'departure' | 'before' | 'after'>;

/** The note that a line goes on to: the nearest in pitch of those that begin where this one ends. */
function nearest(
  to: Draft,
  drafts: readonly Draft[],
  joins: (other: Draft) => boolean,
): number | null {
  let best: number | null = null;
  let least = Infinity;
  drafts.forEach((other, place) => {
    if (other.voice !== to.voice || !joins(other)) return;
    const distance = Math.abs(requirePitch(other.pitch).midi - requirePitch(to.pitch).midi);
    if (distance < least) [best, least] = [place, distance];
  });
  return best;
}

function linesOf(score: Score): LineNote[] {
  return score.voices.reduce<LineNote[]>((all, voice) => {
    const drafts = soundingNotes(voice).map((note): Draft => ({
      voice: voice.id,
      at: note.at,
      end: note.at + note.length,
      pitch: note.pitch,
      name: noteOf(note.pitch),
    }));
    const first = all.length;
    const lines = drafts.map((draft, place): LineNote => {
      const near = drafts.slice(Math.max(0, place - 8), place + 9);
      const offset = Math.max(0, place - 8);
      const before = nearest(draft, near, (other) => other.end === draft.at);
      const after = nearest(draft, near, (other) => other.at === draft.end);
      const pitchAt = (index: number | null) =>
        index === null ? null : (near[index]?.pitch ?? null);
      return {
        ...draft,
        approach: motion(pitchAt(before), draft.pitch),
        departure: motion(draft.pitch, pitchAt(after)),
        before: before === null ? null : first + offset + before,
        after: after === null ? null : first + offset + after,
      };
    });
    return [...all, ...lines];
  }, []);
}

function lowest(notes: readonly LineNote[], sounding: readonly number[]): number | null {
  let low: number | null = null;
  for (const index of sounding) {
    const midi = requirePitch((notes[index] as LineNote).pitch).midi;
    if (low === null || midi < requirePitch((notes[low] as LineNote).pitch).midi) low = index;
  }
  return low;
}

function slicesOf(notes: readonly LineNote[], cuts: readonly Ticks[], pulse: Pulse): Slice[] {
  return cuts.slice(0, -1).map((at, place): Slice => {
    const sounding = notes.flatMap((note, index) =>
      note.at <= at && at < note.end ? [index] : [],
    );
    return {
      at,
      end: cuts[place + 1] as Ticks,
      strength: pulse.strengthAt(at),
      sounding,
      bass: lowest(notes, sounding),
    };
  });
}

/**
 * Chords may change on every felt beat, and between beats where at least half of the voices begin a note together.
 * `kept` are moments at which they must be able to: the edges of chords that a person wrote.
 */
function changesOf(score: Score, pulse: Pulse, voices: number, kept: readonly Ticks[]): Ticks[] {
  const attacks = attacksOf(score);
  const end = endOf(score);
  const moments = new Set<Ticks>([0, end, ...kept]);
  for (const bar of score.bars) {
    moments.add(bar.at);
    const beat = pulse.beatAt(bar.at);
    const full = barLength(meterAt(score, bar.at));
    const missing = bar.number === 0 && full !== null && full > bar.length ? full - bar.length : 0;
    const first = (beat - (missing % beat)) % beat;
    for (let at = bar.at + first; at < bar.at + bar.length; at += beat) moments.add(at);
  }
  for (const [at, count] of attacks) {
    const unit = unitTicks(meterAt(score, at).unit);
    if (2 * count >= voices && pulse.strengthAt(at) >= 1 && unit > 0) moments.add(at);
  }
  return [...moments].filter((at) => at <= end).sort((a, b) => a - b);
}

export function textureOf(score: Score, kept: readonly Ticks[] = []): Texture {
  const pulse = pulseOf(score);
  const notes = linesOf(score);
  const voices = new Set(notes.map((note) => note.voice)).size;
  const changes = changesOf(score, pulse, voices, kept);
  const cuts = new Set<Ticks>(changes);
  for (const note of notes) {
    cuts.add(note.at);
    cuts.add(note.end);
  }
  const slices = slicesOf(
    notes,
    [...cuts].sort((a, b) => a - b),
    pulse,
  );
  return { score, pulse, notes, slices, changes, voices };
}
