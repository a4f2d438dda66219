import {
  keyOfSignature,
  sameKey,
  sayKey,
  sayNote,
  signatureOf,
  type Key,
  type Mode,
} from '../pitch/key.ts';
import { midiOf, noteOf, pitchClassOf, type NoteName, type PitchName } from '../pitch/pitch.ts';
import { listed, numberWord, sayTimes } from './number-words.ts';
import type { KeyAt, Score, Ticks, Voice } from './score.ts';

/** A key with how sure it is; `KeyAt` without its place. */
export type FoundKey = Pick<KeyAt, 'key' | 'sure' | 'reason' | 'others'>;

/** The modes by the degree of the signature's major scale on which they end. */
const BY_DEGREE: readonly Mode[] = [
  'major',
  'dorian',
  'phrygian',
  'lydian',
  'mixolydian',
  'minor',
  'locrian',
];

/** Semitones above the tonic. */
const MAJOR_TRIAD = [0, 4, 7];
const MINOR_TRIAD = [0, 3, 7];
const DOMINANT = [7, 11, 2, 5];

/**
 * The key of a stretch of music from its signature, its last bass note and its last chord (common practice: a song ends
 * on its tonic, in the bass and as the root of the last chord; the signature tells the mode on that tonic). The end is
 * where `fine` stands, if it does. Where the end is only a half close or a part of the tonic chord, the signature's own
 * major or minor key comes first, as a doubt.
 *
 * @param signature sharps positive, flats negative
 * @param voices those that sound; one voice alone is judged by its last note
 */
export function find(
  signature: number,
  voices: readonly Voice[],
  from: Ticks = 0,
  to: Ticks = Infinity,
): FoundKey {
  const major = keyOfSignature(signature, 'major');
  const fine = fineIn(voices, from, to);
  const chord = lastChord(voices, from, to, fine);
  const bass = chord[0];
  if (bass === undefined) {
    const reason = `${sign(signature)} and no notes: ${sayKey(major)} is only what the signature says.`;
    return { key: major, sure: false, reason, others: [keyOfSignature(signature, 'minor')] };
  }
  const notes = chord.map(noteOf);
  const root = rootOf(notes);
  const tonic = root ?? noteOf(bass);
  const mode = BY_DEGREE[degreeUnder(signature, tonic) ?? -1];
  const ending = `${fine === null ? '' : 'at the fine '}${endingWords(chord, root)}`;
  if (mode === undefined) {
    const reason = `${sign(signature)}, but ${ending}: that note is not in the scale.`;
    return { key: major, sure: false, reason, others: [keyOfSignature(signature, 'minor')] };
  }
  const key: Key = { tonic, mode };
  const begin = `${sign(signature)}; ${ending}`;
  if (mode === 'major') return { key, sure: true, reason: `${begin}: ${sayKey(key)}.`, others: [] };
  const raised = raisedSevenths(voices, tonic, signature, from, to);
  if (mode === 'minor') return minorKey(key, major, begin, raised, chord.length > 1);
  const relative = keyOfSignature(signature, 'minor');
  const isMinor = raisedSevenths(voices, relative.tonic, signature, from, to) > 0;
  return homeKey(key, signature, begin, notes, isMinor) ?? modalKey(key, signature, begin, raised);
}

/**
 * The signature's own major or minor key, where the end is of its dominant seventh or of its tonic chord; null: it is
 * of neither. A dominant at the end is a half close: the song goes back to its beginning (common practice).
 */
function homeKey(
  modal: Key,
  signature: number,
  begin: string,
  notes: readonly NoteName[],
  isMinor: boolean,
): FoundKey | null {
  const [major, minor] = [keyOfSignature(signature, 'major'), keyOfSignature(signature, 'minor')];
  const endsIn = ({ tonic }: Key, chord: readonly number[]): boolean =>
    notes.every((note) => chord.includes((pitchClassOf(note) - pitchClassOf(tonic) + 12) % 12));
  const doubted = (key: Key, what: string): FoundKey => {
    const others = othersThan(key, modal, major, minor);
    const reason = `${begin}: ${what} of ${sayKey(key)}, unless the song is in ${listed(others.map(sayKey), 'or')}.`;
    return { key, sure: false, reason, others };
  };
  const leading = (pitchClassOf(minor.tonic) + 11) % 12;
  const isRaised = isMinor || notes.some((note) => pitchClassOf(note) === leading);
  if (modal.mode === 'phrygian' && isRaised && endsIn(minor, DOMINANT))
    return doubted(minor, 'the dominant');
  if (isMinor && endsIn(minor, MINOR_TRIAD)) return doubted(minor, 'part of the tonic chord');
  const isFifth = modal.mode === 'mixolydian' || modal.mode === 'locrian';
  if (isFifth && endsIn(major, DOMINANT)) return doubted(major, 'the dominant');
  return endsIn(major, MAJOR_TRIAD) ? doubted(major, 'part of the tonic chord') : null;
}

function othersThan(key: Key, modal: Key, major: Key, minor: Key): Key[] {
  if (modal.mode === 'mixolydian') return [modal, { tonic: modal.tonic, mode: 'major' }];
  const relative = key === major ? minor : major;
  return modal.mode === 'locrian' ? [relative] : [modal, relative];
}

function minorKey(key: Key, major: Key, begin: string, raised: number, chordal: boolean): FoundKey {
  const sure = chordal || raised > 0;
  const leading = raised > 0 ? `, and its leading note is raised ${sayTimes(raised)}` : '';
  const reason = `${begin}${leading}: ${sayKey(key)}.`;
  return { key, sure, reason, others: sure ? [] : [major] };
}

/** A mode other than major and minor may be one of those written with a signature that is not its own. */
function modalKey(key: Key, signature: number, begin: string, raised: number): FoundKey {
  const minorish = key.mode === 'dorian' || key.mode === 'phrygian' || key.mode === 'locrian';
  const plain: Key = { tonic: key.tonic, mode: minorish ? 'minor' : 'major' };
  const leading =
    minorish && raised > 0
      ? ` The leading note is raised ${sayTimes(raised)}, which speaks for ${sayKey(plain)}.`
      : '';
  const reason = `${begin}: that is ${sayKey(key)}, or ${sayKey(plain)} written with the signature of another key.${leading}`;
  const home = keyOfSignature(signature, 'major');
  const others = key.mode === 'mixolydian' || key.mode === 'lydian' ? [plain, home] : [plain];
  return { key, sure: false, reason, others };
}

/** Sets the key that a person has decided on; a later key change in the song stays as it is. */
export function answer(score: Score, key: Key, at: Ticks = 0): Score {
  const keys = score.keys.map((each): KeyAt => {
    if (each.at !== at) return each;
    const others = each.others.filter((other) => !sameKey(other, key));
    const known = sameKey(each.key, key) ? [] : [each.key];
    return { ...each, ...decided(key), others: [...known, ...others] };
  });
  return { ...score, keys };
}

/** Finds every key of a score anew that nobody has decided on. */
export function findAll(
  voices: readonly Voice[],
  signatures: readonly { readonly at: Ticks; readonly signature: number }[],
): KeyAt[] {
  return signatures.map(({ at, signature }, i) => {
    const to = signatures[i + 1]?.at ?? Infinity;
    return { at, signature, ...find(signature, voices, at, to) };
  });
}

/** A key that a person has decided on. */
export function decided(key: Key): FoundKey {
  return { key, sure: true, reason: `${sayKey(key)}: decided by a person.`, others: [] };
}

/** A key that the source names outright. */
export function named(key: Key): FoundKey {
  return { key, sure: true, reason: `The source names ${sayKey(key)}.`, others: [] };
}

/** Where the last note with `fine` ends; null: none has it. */
function fineIn(voices: readonly Voice[], from: Ticks, to: Ticks): Ticks | null {
  const ends = voices.flatMap(({ notes }) =>
    notes
      .filter(({ at, signs }) => at >= from && at < to && signs?.includes('fine'))
      .map(({ at, length }) => at + length),
  );
  return ends.length === 0 ? null : Math.max(...ends);
}

/** What sounds together at the very end, low to high. */
function lastChord(
  voices: readonly Voice[],
  from: Ticks,
  to: Ticks,
  fine: Ticks | null,
): PitchName[] {
  const sounding = voices.flatMap((voice) => {
    const note = voice.notes.findLast(
      (each) => each.pitches.length > 0 && each.at >= from && each.at < (fine ?? to),
    );
    return note ? [note] : [];
  });
  const end = fine ?? Math.max(...sounding.map((note) => note.at + note.length));
  const pitches = sounding
    .filter((note) => note.at + note.length >= end)
    .flatMap((note) => note.pitches);
  return [...new Set(pitches)].sort((a, b) => midiOf(a) - midiOf(b));
}

/** The root of a triad or open fifth, by the spelling of its notes; null where it is none. */
function rootOf(notes: readonly NoteName[]): NoteName | null {
  const classes = new Set(notes.map(pitchClassOf));
  const above = (root: number, semitones: number): boolean => classes.has((root + semitones) % 12);
  for (const note of notes) {
    const root = pitchClassOf(note);
    const third = above(root, 4) || above(root, 3);
    if (above(root, 7) && (third || classes.size === 2)) return note;
  }
  // Without its fifth: a third above the bass.
  const [bass] = notes;
  if (bass === undefined || classes.size > 2) return null;
  const root = pitchClassOf(bass);
  return classes.size === 1 || above(root, 4) || above(root, 3) ? bass : null;
}

/** Counted from 0 on the signature's major scale; null: the note is not in it. */
function degreeUnder(signature: number, tonic: NoteName): number | null {
  const degree = BY_DEGREE.findIndex((mode) => keyOfSignature(signature, mode).tonic === tonic);
  return degree < 0 ? null : degree;
}

/** How often the note a half step below the tonic sounds, where the signature has it a whole step below. */
function raisedSevenths(
  voices: readonly Voice[],
  tonic: NoteName,
  signature: number,
  from: Ticks,
  to: Ticks,
): number {
  if (signatureOf({ tonic, mode: 'major' }) === signature) return 0;
  const leading = (pitchClassOf(tonic) + 11) % 12;
  let count = 0;
  for (const voice of voices) {
    for (const note of voice.notes) {
      if (note.at < from || note.at >= to) continue;
      count += note.pitches.filter((pitch) => ((midiOf(pitch) % 12) + 12) % 12 === leading).length;
    }
  }
  return count;
}

function endingWords(chord: readonly PitchName[], root: NoteName | null): string {
  const bass = sayNote(noteOf(chord[0] ?? 'C4'));
  if (chord.length === 1) return `the last note is ${bass}`;
  const notes = [...new Set(chord.map((pitch) => sayNote(noteOf(pitch))))].join(' ');
  const rooted = root !== null && sayNote(root) !== bass ? `, whose root is ${sayNote(root)}` : '';
  return `the last bass note is ${bass} and the last chord ${notes}${rooted}`;
}

function sign(signature: number): string {
  const count = Math.abs(signature);
  if (count === 0) return 'No sharps or flats';
  const word = numberWord(count);
  const name = signature > 0 ? 'sharp' : 'flat';
  return `${word.charAt(0).toUpperCase()}${word.slice(1)} ${name}${count === 1 ? '' : 's'}`;
}
