import type { PitchName } from '../pitch/pitch.ts';
import { QUARTER, type Score, type Ticks } from '../score/score.ts';
import { sungSections, type SungNote } from './sung.ts';

/**
 * Where a tune lies, weighted by time: how long it is at each pitch decides, not how many notes it has there. The
 * weighting follows Thurmer's tessituragram (Journal of Voice 2, 1988); the tessitura is the range from the first to
 * the third quartile (Patinka, data set 10.17632/5msxnzhv27.1).
 */
export interface Tessitura {
  readonly low: PitchName;
  readonly high: PitchName;
  /** The lowest pitch at which the time from the bottom up reaches a quarter, a half, three quarters of the whole. */
  readonly q1: PitchName;
  readonly median: PitchName;
  readonly q3: PitchName;
  /** Mean of the pitch over time: semitones, C4 = 60. */
  readonly mean: number;
  /** Quarter notes' worth of time at each pitch, from the lowest up. */
  readonly beatsByPitch: Readonly<Record<PitchName, number>>;
  /** Quarter notes' worth of singing. */
  readonly beats: number;
  /** The same times, exact. */
  readonly pitches: readonly PitchTime[];
}

/**
 * Time at one sounding pitch. Spellings that sound alike (G# and Ab) are one; the name is the spelling that has more of
 * the time, of equals the one that is sung first.
 */
export interface PitchTime {
  readonly pitch: PitchName;
  /** Semitones, C4 = 60. */
  readonly midi: number;
  readonly ticks: Ticks;
}

export interface SectionTessitura extends Tessitura {
  readonly section: string;
  readonly name: string;
}

export interface SongTessitura extends Tessitura {
  /** Each section that is sung, in the order of the score. */
  readonly sections: readonly SectionTessitura[];
}

export interface TessituraOptions {
  /** Id of one section; missing: the whole song. */
  readonly section?: string;
  /** Id of a voice; missing: the tune. */
  readonly voice?: string;
}

/** One verse's worth of a voice (see `sungSections` for what counts); null where nothing is sung. */
export function of(score: Score, options: TessituraOptions = {}): SongTessitura | null {
  const sung = sungSections(score, options.voice).filter(
    ({ id }) => options.section === undefined || id === options.section,
  );
  if (sung.length === 0) return null;
  const sections = sung.map(({ id, name, notes }) => ({
    section: id,
    name,
    ...ofPitches(pitchTimes(notes)),
  }));
  return { ...ofPitches(pitchTimes(sung.flatMap(({ notes }) => notes))), sections };
}

/** Time at each sounding pitch, from the lowest up. */
export function pitchTimes(
  notes: readonly Pick<SungNote, 'pitch' | 'midi' | 'length'>[],
): PitchTime[] {
  const bySound = new Map<number, Map<PitchName, Ticks>>();
  for (const { pitch, midi, length } of notes) {
    const spellings = bySound.get(midi) ?? new Map<PitchName, Ticks>();
    spellings.set(pitch, (spellings.get(pitch) ?? 0) + length);
    bySound.set(midi, spellings);
  }
  return [...bySound]
    .sort(([a], [b]) => a - b)
    .map(([midi, spellings]) => {
      let [name, most, ticks] = ['', 0, 0];
      for (const [pitch, time] of spellings) {
        ticks += time;
        if (time > most) [name, most] = [pitch, time];
      }
      return { pitch: name, midi, ticks };
    });
}

/** The figures of a list of times that is in order from the lowest pitch up and not empty. */
export function ofPitches(pitches: readonly PitchTime[]): Tessitura {
  const first = pitches[0];
  const last = pitches.at(-1);
  if (!first || !last) throw new RangeError('no pitch, no tessitura');
  let total = 0;
  let weighted = 0;
  for (const { midi, ticks } of pitches) {
    total += ticks;
    weighted += midi * ticks;
  }
  const reached = (quarters: number): PitchName => {
    let time = 0;
    for (const { pitch, ticks } of pitches) {
      time += ticks;
      if (4 * time >= quarters * total) return pitch;
    }
    return last.pitch;
  };
  return {
    low: first.pitch,
    high: last.pitch,
    q1: reached(1),
    median: reached(2),
    q3: reached(3),
    mean: weighted / total,
    beatsByPitch: Object.fromEntries(
      pitches.map(({ pitch, ticks }) => [pitch, ticks / QUARTER] as const),
    ),
    beats: total / QUARTER,
    pitches,
  };
}
