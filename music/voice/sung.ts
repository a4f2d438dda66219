import { sayKey } from '../pitch/key.ts';
import { requirePitch, type PitchName } from '../pitch/pitch.ts';
import type { Score, Section, Ticks, Voice } from '../score/score.ts';
import { feltBeat, inForce, melodyOf, meterAt, soundingNotes } from '../score/time.ts';

/**
 * Units of one felt beat. Every felt beat (a whole note's part by a power of two, or three such parts) divides it
 * when it is counted in ticks, so that beats of different meters add up exactly.
 */
export const FELT_BEAT = 241_920;

/** A note as it is sung: ties joined. */
export interface SungNote {
  readonly at: Ticks;
  readonly length: Ticks;
  readonly pitch: PitchName;
  /** Semitones, C4 = 60. */
  readonly midi: number;
  /** Its length in felt beats of the meter where it begins, times `FELT_BEAT`. */
  readonly felt: number;
  /** Number of the bar where it begins. */
  readonly bar: number;
}

export interface SungSection {
  readonly id: string;
  readonly name: string;
  readonly notes: readonly SungNote[];
}

/**
 * What a voice sings, section by section, in the order of the score. One verse's worth: the time line as it is
 * written, once, so that neither repeats nor further verses count twice. Rests are left out, a held note counts whole
 * where it begins, of a chord the top note is sung, grace notes are outside the count, and a section that is only
 * played before the singing (`intro`) is left out.
 */
export function sungSections(score: Score, voiceId?: string): SungSection[] {
  const voice = voiceId === undefined ? melodyOf(score) : requireVoice(score, voiceId);
  const top: Voice = {
    ...voice,
    notes: voice.notes.map((note) => ({ ...note, pitches: note.pitches.slice(-1) })),
  };
  const notesOf = new Map<Section, SungNote[]>();
  for (const { at, length, pitch } of soundingNotes(top)) {
    const section = score.sections.find((each) => at >= each.from && at < each.to);
    if (!section || section.kind === 'intro') continue;
    const felt = (length * FELT_BEAT) / feltBeat(meterAt(score, at));
    const bar = inForce(score.bars, at).number;
    const notes = notesOf.get(section) ?? [];
    notes.push({ at, length, pitch, midi: requirePitch(pitch).midi, felt, bar });
    notesOf.set(section, notes);
  }
  return score.sections.flatMap((section) => {
    const notes = notesOf.get(section);
    return notes ? [{ id: section.id, name: nameOf(score, section), notes }] : [];
  });
}

/** `Verse`, and where it is also sung in another key `Verse in G major`. */
const nameOf = (score: Score, { up, name, from }: Section): string =>
  up ? `${name} in ${sayKey(inForce(score.keys, from).key)}` : name;

function requireVoice(score: Score, id: string): Voice {
  const voice = score.voices.find((each) => each.id === id);
  if (!voice) throw new RangeError(`no voice ${id}`);
  return voice;
}
