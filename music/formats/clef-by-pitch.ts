import { midiOf } from '../pitch/pitch.ts';
import type { Note, Voice } from '../score/score.ts';

/** Where no clef is named: the one that needs fewer ledger lines (middle C belongs to both). */
export function clefByPitch(notes: readonly Pick<Note, 'pitches'>[]): Voice['clef'] {
  const pitches = notes.flatMap((note) => note.pitches);
  const low = pitches.filter((pitch) => midiOf(pitch) < 60).length;
  return low * 2 > pitches.length ? 'bass' : 'treble';
}
