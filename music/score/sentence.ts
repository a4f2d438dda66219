import type { Chord } from '../pitch/chord.ts';
import { say as sayChord, transpose as transposeChord } from '../pitch/chord-symbol.ts';
import { transposeNote, transposePitch, type Interval } from '../pitch/interval.ts';
import { sayKey, sayNote, type Key } from '../pitch/key.ts';
import type { NoteName, PitchName } from '../pitch/pitch.ts';

/**
 * A sentence about music whose pitches are still pitches, so that it stays true when the song moves to another key.
 * `['the bass holds ', { pitch: 'G2' }, ' under ', { chord }]`
 */
export type Sentence = readonly (
  | string
  | { readonly pitch: PitchName }
  | { readonly note: NoteName }
  | { readonly chord: Chord }
  | { readonly key: Key }
)[];

/** The sentence as people read it: `the bass holds G2 under E♭m/G♭`. */
export function saySentence(sentence: Sentence): string {
  return sentence
    .map((word) => {
      if (typeof word === 'string') return word;
      if ('pitch' in word) return sayNote(word.pitch);
      if ('note' in word) return sayNote(word.note);
      return 'chord' in word ? sayChord(word.chord) : sayKey(word.key);
    })
    .join('');
}

export function transposeSentence(sentence: Sentence, interval: Interval): Sentence {
  return sentence.map((word) => {
    if (typeof word === 'string') return word;
    if ('pitch' in word) return { pitch: transposePitch(word.pitch, interval) };
    if ('note' in word) return { note: transposeNote(word.note, interval) };
    if ('chord' in word) return { chord: transposeChord(word.chord, interval) };
    return { key: { tonic: transposeNote(word.key.tonic, interval), mode: word.key.mode } };
  });
}
