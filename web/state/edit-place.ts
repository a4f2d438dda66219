import {
  ChordSymbol,
  Editing,
  Keys,
  Time,
  type Note,
  type PitchName,
  type Score,
  type Ticks,
  type Voice,
} from '#music';
import { sayLength, type EntryLength } from './edit-length.ts';
import { beginsNear } from './edit-pitches.ts';

/** Where one is in the music, and what the next note will be. */
export interface Hand {
  /** Id of the voice. */
  readonly voice: string;
  /** The start of a note of it, a place in a rest, or the end of the score; for a chord any moment of the score. */
  readonly at: Ticks;
  readonly length: EntryLength;
}

export function voiceOf(score: Score, id: string): Voice {
  return score.voices.find((voice) => voice.id === id) ?? Time.melodyOf(score);
}

/** The hand in a voice that there is, at a moment that the score has. */
export function within(score: Score, hand: Hand): Hand {
  const { id } = voiceOf(score, hand.voice);
  return { ...hand, voice: id, at: Math.min(Math.max(0, hand.at), Time.endOf(score)) };
}

/** The hand where a note can be: in a voice that there is, at the start of a note or anywhere in a rest. */
export function settled(score: Score, hand: Hand): Hand {
  const voice = voiceOf(score, hand.voice);
  const end = Time.endOf(score);
  if (hand.at >= end) return { ...hand, voice: voice.id, at: end };
  const note = Time.noteAt(voice, Math.max(0, hand.at));
  const at = note && note.pitches.length === 0 ? Math.max(0, hand.at) : (note?.at ?? 0);
  return voice.id === hand.voice && at === hand.at ? hand : { ...hand, voice: voice.id, at };
}

/** The signature in force at the hand; after the end the last one. */
export function signatureAt(score: Score, { at }: Hand): number {
  return Time.keyAt(score, Math.max(0, Math.min(at, Time.endOf(score) - 1))).signature;
}

/** The note or rest at the hand; null after the last bar. */
export function noteHere(score: Score, { voice, at }: Hand): Note | null {
  return Time.noteAt(voiceOf(score, voice), at);
}

export function noteBefore(score: Score, { voice, at }: Hand): Note | null {
  return voiceOf(score, voice).notes.findLast((note) => note.at < at) ?? null;
}

/** From where the next letter is reached: the note before, else the one here, else where its staff begins. */
export function reachedFrom(score: Score, hand: Hand): PitchName {
  const voice = voiceOf(score, hand.voice);
  const before = voice.notes.findLast(({ at, pitches }) => at < hand.at && pitches.length > 0);
  return before?.pitches.at(-1) ?? noteHere(score, hand)?.pitches.at(-1) ?? beginsNear(voice);
}

/** The note that is meant by an accidental or a tie: the one here, or the one that was just written. */
export function noteMeant(score: Score, hand: Hand): Note | null {
  const here = noteHere(score, hand);
  if (here && here.pitches.length > 0) return here;
  const before = noteBefore(score, hand);
  return before && before.pitches.length > 0 ? before : null;
}

/** The note before or after the hand. */
export function moved(score: Score, hand: Hand, direction: -1 | 1): Hand {
  if (direction < 0) return { ...hand, at: noteBefore(score, hand)?.at ?? 0 };
  const next = voiceOf(score, hand.voice).notes.find((note) => note.at > hand.at);
  return { ...hand, at: next?.at ?? Time.endOf(score) };
}

/** The start of the bar before or after; from the middle of a bar back to its start. */
export function movedByBar(score: Score, hand: Hand, direction: -1 | 1): Hand {
  const starts = [...score.bars.map((bar) => bar.at), Time.endOf(score)];
  const at =
    direction > 0
      ? (starts.find((start) => start > hand.at) ?? Time.endOf(score))
      : (starts.findLast((start) => start < hand.at) ?? 0);
  return settled(score, { ...hand, at });
}

/** Index of the bar the hand is in; after the end the last one. */
export function barIndexAt(score: Score, at: Ticks): number {
  const index = score.bars.findIndex((bar) => at < bar.at + bar.length);
  return index < 0 ? Math.max(0, score.bars.length - 1) : index;
}

/** `G4`, `G4 and B4`, `a rest` */
export function saySound({ pitches }: Pick<Note, 'pitches'>): string {
  return pitches.length === 0 ? 'a rest' : pitches.map(Keys.sayNote).join(' and ');
}

/** What stands at the hand, for eye and ear: `bar 3, beat 2: G4, dotted quarter, “grace”, chord D7`. */
export function sayHand(score: Score, hand: Hand, verse: number): string {
  const note = noteHere(score, hand);
  const place = Editing.sayPlace(score, hand.at);
  if (!note) return place;
  const sounds = saySound(note);
  const isHeld = note.at < hand.at && note.pitches.length > 0;
  const bar = Time.barAt(score, hand.at);
  const isBar = note.pitches.length === 0 && note.at === bar.at && note.length === bar.length;
  const length = isBar
    ? `a whole ${Time.isPickup(bar) ? 'pickup' : 'bar'}`
    : sayLength(note.length);
  const said = isHeld ? [`under ${sounds}`] : [sounds, length];
  if (note.tie && !isHeld) said.push('tied');
  const melody = Time.noteAt(Time.melodyOf(score), hand.at);
  const section = score.sections.findLast(({ from }) => from <= hand.at);
  const sung = (section && Editing.verseForAll(score, section)) ?? verse;
  const index = score.verses.findIndex(({ number }) => number === sung);
  const syllable = melody?.at === hand.at ? melody.syllables?.[index] : null;
  if (syllable) said.push(`“${syllable.text}${syllable.hyphen ? '-' : ''}”`);
  const chord = score.chords.find(({ at }) => at === hand.at);
  if (chord) said.push(chord.chord ? `chord ${ChordSymbol.say(chord.chord)}` : 'no chord');
  return `${place}: ${said.join(', ')}`;
}
