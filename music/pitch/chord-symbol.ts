import { canonical, chordTones, intervalOf } from './chord-degrees.ts';
import { read } from './chord-reader.ts';
import { symbolIn } from './chord-names.ts';
import { parts } from './chord-writer.ts';
import type { Chord } from './chord.ts';
import { transposeNote, type Interval } from './interval.ts';
import { pitchClassOf, type NoteName } from './pitch.ts';

export { canonical, read, symbolIn };

/** Letters are the same in every key. */
const ANY_KEY = { tonic: 'C', mode: 'major' } as const;

/** The symbol in ASCII: `F#m7b5`, `C7(b9,#11)`, `Bb69/D`, `N.C.` `read` gives the same chord back. */
export function write(chord: Chord): string {
  const { root, body, bass } = parts(chord);
  return root + body + (bass === '' ? '' : `/${bass}`);
}

/** The symbol for people: `F♯m7♭5`. A double sharp is two sharp signs, which every font has. */
export function say(chord: Chord): string {
  return symbolIn(chord, 'english', ANY_KEY);
}

/**
 * The notes of a chord as it is spelled, in the order of its degrees from the root up: Cdim7 is C Eb Gb Bbb. A bass
 * that is not one of them is not among them. No notes: no chord.
 */
export function tonesOf(chord: Chord): NoteName[] {
  return chordTones(chord).map((tone) => transposeNote(chord.root, intervalOf(tone)));
}

/** Semitones above C, 0–11, of `tonesOf`, in that order, each once. */
export function pitchClassesOf(chord: Chord): number[] {
  return [...new Set(tonesOf(chord).map(pitchClassOf))];
}

export function transpose(chord: Chord, interval: Interval): Chord {
  if (chord.kind === 'none') return chord;
  return {
    ...chord,
    root: transposeNote(chord.root, interval),
    bass: chord.bass === null ? null : transposeNote(chord.bass, interval),
  };
}

/** Whether two chords are written alike: the same root, tones and bass. */
export function sameChord(a: Chord, b: Chord): boolean {
  return write(a) === write(b);
}
