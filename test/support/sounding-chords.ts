import { Chord } from 'tonal';
import { ChordSymbol, Pitches, Time, type ChordAt, type Score, type Ticks } from '#music';

/** The notes that sound between two moments, each once, without their octaves. */
export function namesIn(score: Score, from: Ticks, to: Ticks): string[] {
  const sounding = score.voices
    .flatMap((voice) => Time.soundingNotes(voice))
    .filter((note) => note.at < to && note.at + note.length > from);
  return [...new Set(sounding.map((note) => Pitches.noteOf(note.pitch)))];
}

/** What the library tonal calls exactly these notes, where that is a triad: `CM`, `Dm`, `Bdim`. */
export function triadByTonal(names: readonly string[]): string | null {
  if (names.length !== 3) return null;
  const orders = names.map((_, place) => [...names.slice(place), ...names.slice(0, place)]);
  const found = orders
    .flatMap((order) => [order, [...order].reverse()])
    .flatMap((order) => Chord.detect(order));
  return found.find((name) => /^[A-G][#b]{0,2}(M|m|dim)$/.test(name)) ?? null;
}

/** A chord over its root, as it is written. */
export function symbol({ chord }: ChordAt): string {
  return chord ? ChordSymbol.write({ ...chord, bass: null }) : '';
}

/** Whether one of two chords has all notes of the other. */
export function includes(a: ChordAt, b: ChordAt): boolean {
  const tones = ({ chord }: ChordAt) => (chord ? ChordSymbol.tonesOf(chord) : []);
  const [one, two] = [tones(a), tones(b)];
  return one.every((tone) => two.includes(tone)) || two.every((tone) => one.includes(tone));
}
