import { pitchOn } from '../../hand/candidates.ts';
import type { Shape } from '../../hand/shape.ts';
import { tonesOf } from '../../pitch/chord-symbol.ts';
import { midiOf, pitchClassOf, type PitchName } from '../../pitch/pitch.ts';
import type { Note, Score, Ticks } from '../../score/score.ts';
import { endOf, feltBeat, meterAt, type SoundingNote } from '../../score/time.ts';
import { INTRODUCTION } from '../form/introduction.ts';
import { FIGURES, strikesInBar } from '../patterns.ts';
import { HIGHEST, isHalfStep } from './fill-notes.ts';
import { beamed } from './in-texture.ts';
import type { KeysSong } from './keys-song.ts';
import { timeAt } from './part-difficulty-strikes.ts';
import { phraseStarts } from './right-phrases.ts';
import { sungAt, tuneThroughout } from './right-tune.ts';

/** A hand that has just learned it strikes no more than two and a half times a second (ours). */
const APART_SECONDS = 0.4;
/** An octave: what one hand keeps under its fingers. */
const UNDER_HAND = 12;
/** On the fourth rung the little finger goes on by a fourth at most where the thumb lets go (ours). */
const ON = 5;

type TuneSong = Pick<KeysSong, 'score' | 'chords' | 'rungsAt' | 'textureAt' | 'player'>;

/** A note of the tune that a hand may strike by itself. */
interface Carried {
  readonly at: Ticks;
  readonly pitch: PitchName;
  readonly isBeat: boolean;
}

/**
 * From the third rung on the tune is carried where the hand would wait: where it moves to another note of the chord that
 * is held, that note is struck with it, by itself and softer than the chord; what is not in the chord is left to the singers.
 * It is a note of the shape or one that the hand reaches above it, in the octave in which the shape has the tune. It stands on
 * felt beats; between them only in a calm tempo: no strike is nearer to it than 0.4 seconds. The
 * chord before it is heard for half of the time until the hand strikes a chord again, or more. None where what is sung while it lasts comes a half step from it,
 * and none more than an octave from the top of what is struck before or after it in its phrase. In the introduction the hand plays what will be sung.
 * Where the texture has one soft note at that moment, it is this note instead. Broken chords stay as they are.
 * (Common practice: the hand helps the tune where the chord has it; the limits are ours.)
 * @param notes in the texture, bar by bar; their beams are made anew
 */
export function withTuneCarried(
  song: TuneSong,
  held: readonly Shape[],
  notes: readonly Note[],
): Note[] {
  const tune = tuneThroughout(song.score);
  const carried = new Map(
    kept(song.score, tune, notes, wanted(song, held, notes, tune)).map((each) => [each.at, each]),
  );
  if (carried.size === 0) return [...notes];
  const introduction = song.score.sections.find(({ id }) => id === INTRODUCTION);
  const played = notes.flatMap((note): Note[] => {
    const { beam: _, ...whole } = note;
    const inside = [...carried.values()]
      .filter(({ at }) => at >= note.at && at < note.at + note.length)
      .sort((a, b) => a.at - b.at);
    const ends = [...inside.map(({ at }) => at), note.at + note.length];
    const first = (ends[0] ?? note.at) - note.at;
    return [
      ...(first > 0 ? [{ ...whole, length: first }] : []),
      ...inside.map(({ at, pitch }, i): Note => {
        const isSung = !introduction || at >= introduction.to;
        const length = (ends[i + 1] ?? at) - at;
        return { at, length, pitches: [pitch], ...(isSung ? { soft: true } : {}) };
      }),
    ];
  });
  return beamed(song.score, played);
}

const isSingle = ({ soft, pitches }: Note): boolean => soft === true && pitches.length === 1;

/** Every note of the tune that the hand could carry, each by itself. */
function wanted(
  { score, chords, rungsAt, textureAt, player }: TuneSong,
  held: readonly Shape[],
  notes: readonly Note[],
  tune: readonly SoundingNote[],
): Carried[] {
  const beats = new Set(
    score.bars.flatMap((_, bar) =>
      strikesInBar(score, bar, () => 'every beat', FIGURES.right).map(({ at }) => at),
    ),
  );
  const found: Carried[] = [];
  const moments = new Set([
    ...tune.map(({ at }) => at),
    ...notes.filter(isSingle).map(({ at }) => at),
  ]);
  for (const at of [...moments].sort((a, b) => a - b)) {
    const rung = rungsAt(at).right;
    const index = chords.findIndex((chord) => at > chord.at && at < chord.at + chord.length);
    const [chord, shape] = [chords[index], held[index]];
    if (!chord || !shape || rung < 3 || textureAt(at) === 'broken') continue;
    const sung = tune.findLast((each) => each.at <= at);
    const here = notes.find((note) => note.at <= at && at < note.at + note.length);
    const struck = notes.findLast(
      (note) => note.at >= chord.at && note.at <= at && note.pitches.length === shape.notes.length,
    );
    if (!sung || !here || here.pitches.length === 0 || !struck || sung.at <= struck.at) continue;
    const isInstead = here.at === at && isSingle(here);
    if (sung.at + sung.length <= at || (here.at === at && !isInstead)) continue;
    const again = notes.find((note) => note.at > struck.at && !isSingle(note))?.at ?? endOf(score);
    if (!isInstead && at - struck.at < again - at) continue;
    const begun = sungAt(score, struck.at);
    const pitch = inHand(shape, sung.pitch, begun, tonesOf(chord.chord), {
      reach: Math.min(UNDER_HAND, player.reach),
      on: rung > 3 ? ON : 0,
    });
    if (pitch === null) continue;
    const before = found.findLast((each) => each.at >= struck.at);
    const last = before?.pitch ?? struck.pitches.at(-1) ?? '';
    const isNew = midiOf(last) !== midiOf(pitch);
    if (isNew || isInstead) found.push({ at, pitch, isBeat: beats.has(at) });
  }
  return found;
}

/** A sung note in the octave in which the shape has the tune; null: the chord has it not, or the hand does not reach it. */
function inHand(
  { notes }: Shape,
  sung: PitchName,
  begun: PitchName | null,
  tones: ReturnType<typeof tonesOf>,
  { reach, on }: { readonly reach: number; readonly on: number },
): PitchName | null {
  const [low, top] = [notes[0], notes.at(-1)];
  const tone = tones.find((each) => pitchClassOf(each) === midiOf(sung) % 12);
  if (!low || !top || tone === undefined) return null;
  const moved = begun === null ? 0 : midiOf(top) - midiOf(begun);
  const key = midiOf(sung) + (moved % 12 === 0 ? moved : 0);
  const furthest = Math.max(midiOf(low) + reach, midiOf(top) + on);
  const isIn = key >= midiOf(low) && key <= Math.min(furthest, HIGHEST);
  return isIn ? pitchOn(tone, key) : null;
}

/** Those that have their time: beats first, then what lies between them, each from the last to the first. */
function kept(
  score: Score,
  tune: readonly SoundingNote[],
  notes: readonly Note[],
  all: readonly Carried[],
): Carried[] {
  const own = new Set(all.map(({ at }) => at));
  const strikes = new Set(notes.map(({ at }) => at).filter((at) => !own.has(at)));
  const tops = new Map(notes.map(({ at, pitches }) => [at, pitches.at(-1)]));
  const starts = phraseStarts(score);
  /** No further than an octave from what is on top before or after it, unless a phrase begins with the second. */
  const isLeap = (from: Ticks, pitch: PitchName, to: Ticks): boolean => {
    const other = tops.get(from) ?? pitch;
    return Math.abs(midiOf(other) - midiOf(pitch)) > UNDER_HAND && !starts.includes(to);
  };
  const taken: Carried[] = [];
  const latestFirst = [...all].reverse();
  const inOrder = [
    ...latestFirst.filter(({ isBeat }) => isBeat),
    ...latestFirst.filter(({ isBeat }) => !isBeat),
  ];
  for (const each of inOrder) {
    const { at, pitch, isBeat } = each;
    const [before, after] = [Math.max(...[...strikes].filter((other) => other < at)), Math.min(...[...strikes].filter((other) => other > at))]; // prettier-ignore
    const isApart = [at - before, after - at].every((ticks) => isTime(score, at, ticks, isBeat));
    const clashes = tune.some(
      (sung) =>
        sung.at < after &&
        sung.at + sung.length > at &&
        isHalfStep(midiOf(sung.pitch), midiOf(pitch)),
    );
    if (!isApart || clashes || isLeap(before, pitch, at) || isLeap(after, pitch, after)) continue;
    strikes.add(at);
    tops.set(at, pitch);
    taken.push(each);
  }
  return taken;
}

function isTime(score: Score, at: Ticks, ticks: Ticks, isBeat: boolean): boolean {
  if (!Number.isFinite(ticks)) return true;
  const { seconds } = timeAt(score, at, ticks);
  if (seconds !== null) return seconds >= APART_SECONDS;
  return isBeat && ticks >= feltBeat(meterAt(score, at));
}
