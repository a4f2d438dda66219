import type { Chord } from '../pitch/chord.ts';
import { transpose as transposeChord } from '../pitch/chord-symbol.ts';
import {
  intervalUp,
  plusOctaves,
  transposeNote,
  transposePitch,
  UNISON,
  type Interval,
} from '../pitch/interval.ts';
import { sameKey, sayKey, signatureOf, type Key } from '../pitch/key.ts';
import type { PitchName } from '../pitch/pitch.ts';
import { decided, find as findKey, named } from './key-finding.ts';
import type { ChordAt, Compass, KeyAt, Note, Score, Span, Ticks, Voice } from './score.ts';
import { saySentence, transposeSentence, type Sentence } from './sentence.ts';
import { endOf, inForce } from './time.ts';

export type Direction = 'nearest' | 'up' | 'down';

export interface TransposeOptions {
  /** Where the new tonic lies: the nearest one (a tritone goes the way of fewer letters), the next one up, or the next one down. */
  readonly direction?: Direction;
}

/** More sharps or flats than seven cannot be printed. */
const MOST_IN_SIGNATURE = 7;
/** A diminished second up: the same sound, one letter higher, twelve fifths flatter. C# becomes Db. */
const RESPELL: Interval = { steps: 1, semitones: 0 };

/**
 * How far the tonic of one key lies from that of another, spelled: from G to F is a step down,
 * `{ steps: -1, semitones: -2 }`. Modes play no part; the same tonic is no distance in every direction.
 */
export function interval(from: Key, to: Key, direction: Direction = 'nearest'): Interval {
  if (from.tonic === to.tonic) return UNISON;
  let up = intervalUp(from.tonic, to.tonic);
  // B to Cb is a letter up and no semitone; C to Cb is no letter and a semitone down.
  if (up.semitones < 0) up = plusOctaves(up, 1);
  if (up.semitones >= 12) up = plusOctaves(up, -1);
  if (up.semitones === 0 || direction === 'up') return up;
  const down = plusOctaves(up, -1);
  if (direction === 'down') return down;
  // Six semitones are as near either way: C to F# is an augmented fourth up, and F# to C the same way back.
  const nearerDown = up.semitones > 6 || (up.semitones === 6 && up.steps > -down.steps);
  return nearerDown ? down : up;
}

/** How many fifths an interval moves a signature: a fifth up is one sharp more. */
export function fifthsOfInterval({ steps, semitones }: Interval): number {
  return 7 * semitones - 12 * steps;
}

/**
 * The whole song in another key: every pitch, grace note, chord with its bass, key and signature is moved by one
 * interval and spelled by it, so that key changes inside stay in their relation, a Dorian signature stays Dorian, and
 * double accidentals stand where the key demands them. A stretch whose signature would need more than seven
 * accidentals is spelled enharmonically (G# major as Ab major), that stretch alone. `toKey` gives the tonic; the mode
 * of the song stays its own.
 */
export function score(source: Score, toKey: Key, options: TransposeOptions = {}): Score {
  const from = source.keys[0]?.key;
  if (!from) throw new RangeError('a score has a key at its start');
  return by(source, interval(from, toKey, options.direction));
}

/** The whole song by an interval, as `score` does: by an octave, say, for a voice that reads an octave higher. */
export function by(source: Score, distance: Interval): Score {
  const home = source.keys[0]?.key;
  if (!home || (distance.steps === 0 && distance.semitones === 0)) return source;
  const regions = source.keys.map((key) => ({ at: key.at, interval: spelling(key, distance) }));
  const at = (time: Ticks): Interval => inForce(regions, time).interval;
  const heading = (move: Interval): Key => ({
    tonic: transposeNote(home.tonic, move),
    mode: home.mode,
  });
  const goal = heading(regions[0]?.interval ?? distance);
  const voices = source.voices.map((voice) => moveVoice(voice, at));
  const keys = source.keys.map((key) => moveKey(key, at(key.at), home, goal));
  return {
    ...source,
    keys: keys.map((key, i) => ({ ...key, ...reasonAgain(source, { keys, voices }, i) })),
    voices,
    chords: source.chords.map((chord) => moveChord(chord, at(chord.at), home, goal)),
    ...moveCompass(source.compass, regions[0]?.interval ?? distance),
  };
}

/**
 * A stretch of the song by an interval, all else as it is: what begins in it is moved and spelled as `by` does, a chord
 * that lasts over its edge is parted there, and where it ends the key is again what it was. A key that
 * then stands as the one before is not said twice.
 */
export function stretch(source: Score, { from, to }: Span, distance: Interval): Score {
  const end = endOf(source);
  const parted = withKeyAt(to < end ? withKeyAt(source.keys, to) : source.keys, from);
  const before = { keys: parted, voices: source.voices };
  const home = inForce(parted, from).key;
  const isInside = (at: Ticks): boolean => at >= from && at < to;
  const moveOf = (key: KeyAt): Interval => (isInside(key.at) ? spelling(key, distance) : UNISON);
  const regions = parted.map((key) => ({ at: key.at, interval: moveOf(key) }));
  const at = (time: Ticks): Interval => inForce(regions, time).interval;
  const goal = { tonic: transposeNote(home.tonic, at(from)), mode: home.mode };
  const voices = source.voices.map((voice) => ({
    ...voice,
    notes: voice.notes.map((note) => (isInside(note.at) ? moveNote(note, at(note.at)) : note)),
  }));
  const keys = parted.map((key) => (isInside(key.at) ? moveKey(key, at(key.at), home, goal) : key));
  const again = keys.map((key, i) =>
    isInside(key.at) ? { ...key, ...reasonAgain(before, { keys, voices }, i) } : key,
  );
  const chords = partedAt(partedAt(source.chords, from), to).map((chord) =>
    isInside(chord.at) ? moveChord(chord, at(chord.at), home, goal) : chord,
  );
  return {
    ...source,
    keys: again.filter((key, i) => key.at !== from || !isSameKey(again[i - 1], key)),
    voices,
    chords,
    ...(from === 0 ? moveCompass(source.compass, at(0)) : null),
  };
}

/** A list of keys in which one stands at a moment, the one that is in force there. */
function withKeyAt(keys: readonly KeyAt[], at: Ticks): readonly KeyAt[] {
  if (keys.some((key) => key.at === at)) return keys;
  const index = keys.findIndex((key) => key.at > at);
  return keys.toSpliced(index < 0 ? keys.length : index, 0, { ...inForce(keys, at), at });
}

function isSameKey(a: KeyAt | undefined, b: KeyAt): boolean {
  if (a === undefined || a.sure !== b.sure) return false;
  return sameKey(a.key, b.key) && a.signature === b.signature;
}

/** Chords with none that lasts over a moment; what was found for one stays with its beginning. */
function partedAt(chords: readonly ChordAt[], moment: Ticks): ChordAt[] {
  return chords.flatMap(({ guess, ...chordAt }) => {
    const { at, length, chord } = chordAt;
    const whole = { ...chordAt, ...(guess && { guess }) };
    if (at >= moment || at + length <= moment) return [whole];
    return [
      { ...whole, length: moment - at },
      { at: moment, length: at + length - moment, chord },
    ];
  });
}

/** What a person said of a tune that is not written moves with the key it was said in. */
function moveCompass(compass: Compass | undefined, move: Interval): { compass: Compass } | null {
  if (!compass) return null;
  const range = ({ low, high }: { readonly low: PitchName; readonly high: PitchName }) => ({
    low: transposePitch(low, move),
    high: transposePitch(high, move),
  });
  return { compass: { ...range(compass), mostly: compass.mostly && range(compass.mostly) } };
}

/** What was found from the notes, named by the source or decided by a person is said anew of the moved notes. */
function reasonAgain(
  before: Pick<Score, 'keys' | 'voices'>,
  after: Pick<Score, 'keys' | 'voices'>,
  index: number,
): Pick<KeyAt, 'reason'> | null {
  const ways: ((score: typeof before) => string)[] = [
    ({ keys, voices }) => {
      const { signature, at } = keys[index] as KeyAt;
      return findKey(signature, voices, at, keys[index + 1]?.at).reason;
    },
    ({ keys }) => named((keys[index] as KeyAt).key).reason,
    ({ keys }) => decided((keys[index] as KeyAt).key).reason,
  ];
  const reason = before.keys[index]?.reason;
  const way = reason === '' ? undefined : ways.find((say) => say(before) === reason);
  return way ? { reason: way(after) } : null;
}

/** The interval itself, or respelled where the signature of this stretch would have too many accidentals. */
function spelling(key: KeyAt, distance: Interval): Interval {
  let result = distance;
  const worst = (move: Interval): number => {
    const fifths = fifthsOfInterval(move);
    const both = [key.signature + fifths, signatureOf(key.key) + fifths];
    return both.reduce((a, b) => (Math.abs(b) > Math.abs(a) ? b : a));
  };
  while (worst(result) > MOST_IN_SIGNATURE) result = plus(result, RESPELL);
  while (worst(result) < -MOST_IN_SIGNATURE) {
    const flatter = { steps: result.steps - 1, semitones: result.semitones };
    if (worst(flatter) > MOST_IN_SIGNATURE) break;
    result = flatter;
  }
  return result;
}

function plus(a: Interval, b: Interval): Interval {
  return { steps: a.steps + b.steps, semitones: a.semitones + b.semitones };
}

function moveKey(key: KeyAt, move: Interval, home: Key, goal: Key): KeyAt {
  const keyBy = (each: Key): Key => ({ tonic: transposeNote(each.tonic, move), mode: each.mode });
  return {
    ...key,
    key: keyBy(key.key),
    signature: key.signature + fifthsOfInterval(move),
    others: key.others.map(keyBy),
    ...moveReason(key, move, home, goal),
  };
}

function moveNote(note: Note, move: Interval): Note {
  const by = (pitch: PitchName): PitchName => transposePitch(pitch, move);
  return {
    ...note,
    pitches: note.pitches.map(by),
    ...(note.grace ? { grace: note.grace.map(by) } : {}),
  };
}

function moveVoice(voice: Voice, at: (time: Ticks) => Interval): Voice {
  let held: ReadonlyMap<PitchName, PitchName> = new Map();
  const notes = voice.notes.map((note): Note => {
    const move = at(note.at);
    // A note that is held across a change of spelling keeps the name it began with.
    const names = note.pitches.map((pitch) => held.get(pitch) ?? transposePitch(pitch, move));
    held = new Map(note.tie ? note.pitches.map((pitch, i) => [pitch, names[i] ?? pitch]) : []);
    return { ...moveNote(note, move), pitches: names };
  });
  return { ...voice, notes };
}

function moveChord(chordAt: ChordAt, move: Interval, home: Key, goal: Key): ChordAt {
  const chordBy = (chord: Chord): Chord => transposeChord(chord, move);
  const { chord, guess } = chordAt;
  return {
    ...chordAt,
    chord: chord && chordBy(chord),
    ...(guess
      ? {
          guess: {
            ...guess,
            others: guess.others.map(chordBy),
            ...moveReason(guess, move, home, goal),
          },
        }
      : {}),
  };
}

interface Reasoned {
  readonly reason: string;
  readonly sentence?: Sentence;
}

/**
 * A reason names pitches. Where they are known it is said again; where it is only words it says in which key it was
 * written, and loses that note when the song comes home.
 */
function moveReason(of: Reasoned, move: Interval, home: Key, goal: Key): Reasoned {
  if (of.sentence) {
    const sentence = transposeSentence(of.sentence, move);
    return { reason: saySentence(sentence), sentence };
  }
  if (of.reason === '') return { reason: '' };
  const noted = /^In ([A-G][♯♭]* \p{L}+): (.*)$/su.exec(of.reason);
  const [said, where] = noted ? [noted[2] ?? '', noted[1] ?? ''] : [of.reason, sayKey(home)];
  return { reason: where === sayKey(goal) ? said : `In ${where}: ${said}` };
}
