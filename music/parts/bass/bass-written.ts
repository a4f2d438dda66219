import { tonesOf } from '../../pitch/chord-symbol.ts';
import { midiOf, noteOf, pitchClassOf, type NoteName, type PitchName } from '../../pitch/pitch.ts';
import type { Score, Span, Ticks, Voice } from '../../score/score.ts';
import { feltBeat, meterAt, noteAt } from '../../score/time.ts';
import { feltBeatsIn, isCutAt, type BassSong } from './bass-song.ts';
import { fifthOf, isChordTone } from './bass-tones.ts';
import type { PlayedChord } from '../played-chords.ts';

/** What lies under one chord in one bar. */
export interface Stretch extends Span {
  /** Indexes into the bars of the score and the chords of the song. */
  readonly bar: number;
  readonly chord: number;
}

/** A note of the bass that is written in the song, from felt beat to felt beat, in the octave in which it is written. */
export interface WrittenNote extends Span {
  readonly pitch: PitchName;
  /** A step between two notes: it is not in the chord. */
  readonly passing: boolean;
  /** Semitones from the note before it, where that is a written one too; null: another comes before it. */
  readonly way: number | null;
}

/** Bars cut where the chord changes, in order. */
export function stretchesOf(score: Score, chords: readonly PlayedChord[]): Stretch[] {
  return score.bars.flatMap((bar, index) =>
    chords.flatMap(({ at, length }, chord): Stretch[] => {
      const [from, to] = [Math.max(at, bar.at), Math.min(at + length, bar.at + bar.length)];
      return to > from ? [{ bar: index, chord, from, to }] : [];
    }),
  );
}

/** The lowest voice in a bass clef that is not the tune; undefined: there is none. */
function bassVoice({ voices, melody }: Score): Voice | undefined {
  const heightOf = ({ notes }: Voice): number => {
    const pitches = notes.flatMap(({ pitches: [lowest] }) => lowest ?? []);
    return pitches.reduce((sum, pitch) => sum + midiOf(pitch), 0) / pitches.length;
  };
  return voices
    .filter(({ id, clef }) => id !== melody && clef.startsWith('bass'))
    .filter(({ notes }) => notes.some(({ pitches }) => pitches.length > 0))
    .sort((a, b) => heightOf(a) - heightOf(b))[0];
}

/** What a voice has on the felt beats of a stretch, the same note again joined; null where it rests on one. */
function onBeats(score: Score, voice: Voice, { bar, from, to }: Stretch): Sampled[] | null {
  const beats = feltBeatsIn(score, bar).filter((beat) => beat > from && beat < to);
  const notes: Sampled[] = [];
  // An introduction repeats bars of the song, where the voices are written.
  const number = score.bars[bar]?.copyOf;
  const source = score.bars.find((each) => each.copyOf === undefined && each.number === number);
  const moved = number === undefined ? 0 : (source?.at ?? 0) - (score.bars[bar]?.at ?? 0);
  for (const at of [from, ...beats]) {
    const pitch = noteAt(voice, at + moved)?.pitches[0];
    if (pitch === undefined) return null;
    if (notes.at(-1)?.pitch !== pitch) notes.push({ from: at, pitch });
  }
  return notes;
}

interface Sampled {
  readonly from: Ticks;
  readonly pitch: PitchName;
}

const isStep = (a: PitchName, b: PitchName): boolean =>
  [1, 2].includes(Math.abs(midiOf(a) - midiOf(b)));
const same = (a: NoteName, b: NoteName): boolean => pitchClassOf(a) === pitchClassOf(b);

/** Whether a chord may begin over a note: its written bass, else its root, third or seventh, never its fifth. */
function mayBegin({ chord }: PlayedChord, note: NoteName): boolean {
  if (chord.bass !== null) return same(chord.bass, note);
  const fifth = fifthOf(chord);
  return tonesOf(chord).some((tone) => same(tone, note)) && (fifth === null || !same(fifth, note));
}

/**
 * The bass that is written in the song, stretch by stretch, where it agrees with the chords that everybody plays. It does
 * in a stretch where on the felt beats each of its notes is in the chord, or a step between: a beat long at most, reached
 * and left by step, and after it the written bass goes on. A chord begins over its root, third or seventh (over its fifth
 * it would be another chord to the ear), over its own bass note where something else may come before or after it, and
 * the chord on which the song ends is left to its own note. Where the written bass rests on the root through a whole
 * bar there is nothing to take from it. As much of it as can be.
 * @returns by the beginning of the stretch
 */
export function writtenBass(
  song: BassSong,
  stretches: readonly Stretch[] = stretchesOf(song.score, song.chords),
): Map<Ticks, WrittenNote[]> {
  const { score } = song;
  const voice = bassVoice(score);
  const found = new Map<Ticks, Sampled[]>();
  if (!voice) return new Map();
  // From the end: a step at the end of a stretch needs the written bass after it.
  for (let i = stretches.length - 1; i >= 0; i -= 1) {
    const [here, next] = [stretches[i], stretches[i + 1]];
    if (!here || song.modeAt(here.from) !== 'written') continue;
    const notes = onBeats(score, voice, here);
    const goesOn = next?.from === here.to && !isCutAt(score, here.to);
    const after = goesOn ? found.get(next.from)?.[0] : undefined;
    if (notes && agrees(song, here, notes, after)) found.set(here.from, notes);
  }
  let before: PitchName | null = null;
  const written = new Map<Ticks, WrittenNote[]>();
  for (const { from, to, chord } of stretches) {
    const notes = found.get(from);
    if (!notes) before = null;
    else if (isCutAt(score, from)) before = null;
    const entry = song.chords[chord] as PlayedChord;
    const own = notes?.map(({ from: at, pitch }, i): WrittenNote => {
      const way = before === null ? null : midiOf(pitch) - midiOf(before);
      before = pitch;
      const passing = !isChordTone({ chord: entry.chord, note: noteOf(pitch) });
      return { from: at, to: notes[i + 1]?.from ?? to, pitch, passing, way };
    });
    if (own) written.set(from, own);
  }
  return written;
}

/** @param after the first note of the written bass in the stretch after it, where that is played */
function agrees(
  { score, chords, last }: BassSong,
  { bar, chord, from, to }: Stretch,
  notes: readonly Sampled[],
  after: Sampled | undefined,
): boolean {
  const entry = chords[chord] as PlayedChord;
  const [first] = notes;
  if (!first || chord === last) return false;
  const own = entry.chord.bass ?? entry.chord.root;
  const ends = entry.at + entry.length;
  const isOwn = same(noteOf(first.pitch), own);
  if (isOwn && notes.length === 1 && to - from === score.bars[bar]?.length) return false;
  const isEdge = isCutAt(score, from) || (to === ends && isCutAt(score, ends));
  if (isEdge && !isOwn) return false;
  if (entry.at === from && !mayBegin(entry, noteOf(first.pitch))) return false;
  const beat = feltBeat(meterAt(score, from));
  return notes.every(({ from: at, pitch }, i) => {
    if (isChordTone({ chord: entry.chord, note: noteOf(pitch) })) return true;
    const [before, next] = [notes[i - 1], notes[i + 1] ?? after];
    if (!before || !next || (notes[i + 1]?.from ?? to) - at > beat) return false;
    return isStep(before.pitch, pitch) && isStep(pitch, next.pitch);
  });
}
