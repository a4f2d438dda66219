import { ofLine } from '../../hand/fingering.ts';
import type { Shape } from '../../hand/shape.ts';
import { midiOf, type PitchName } from '../../pitch/pitch.ts';
import { scaleOf } from '../../pitch/key.ts';
import { phraseEnds } from '../../score/phrase-ends.ts';
import { QUARTER, type Note, type Score, type Ticks } from '../../score/score.ts';
import { barAt, feltBeat, keyAt, meterAt, unitTicks, type SoundingNote } from '../../score/time.ts';
import { sayBarList } from '../bar-list.ts';
import { fillBetween } from './fill-notes.ts';
import type { HandLine, HandRemark } from './hand-line.ts';
import type { KeysSong } from './keys-song.ts';
import { tuneOf } from './right-tune.ts';

/** A phrase of the words ends with a bar where half of the verses end one there, or more (ours). */
const ENDS = 0.5;

/** Single notes in the place of what a hand would strike in the last felt beat of a chord. */
interface Fill {
  readonly from: Ticks;
  readonly to: Ticks;
  readonly notes: readonly Note[];
}

/**
 * The right hand's notes with small fills on the fourth rung: where the tune holds the last note of a phrase for two felt
 * beats or more, or rests, until the next chord begins, single notes in the last felt beat lead by steps of the scale to
 * the top note of that chord. None where a section or a repeat ends, as something else may follow; none that is a half
 * step away from what is sung. Their bars are named, as they may be left out.
 * @param line with the fingers that its shapes have in the whole part
 */
export function withFills(song: KeysSong, line: HandLine): HandLine {
  const { held } = line;
  const tune = tuneOf(song.score);
  const ends = phraseEnds(song.score);
  let notes = line.notes;
  const fills: Fill[] = [];
  song.chords.forEach((_, chord) => {
    const fill = fillAfter(song, held, chord, notes, tune, ends);
    if (!fill) return;
    notes = placed(notes, fill, held[chord + 1] as Shape);
    fills.push(fill);
  });
  return { ...line, notes, remarks: [...line.remarks, ...remarksOf(song.score, fills)] };
}

function fillAfter(
  { score, chords, rungsAt }: KeysSong,
  held: readonly Shape[],
  chord: number,
  notes: readonly Note[],
  tune: readonly SoundingNote[],
  ends: readonly number[],
): Fill | null {
  const [here, next] = [chords[chord], chords[chord + 1]];
  const [shape, goal] = [held[chord], held[chord + 1]];
  if (!here || !next || !shape || !goal) return null;
  const to = here.at + here.length;
  if (next.at !== to || rungsAt(here.at).right < 4 || rungsAt(next.at).right < 4) return null;
  const meter = meterAt(score, to - 1);
  const beat = feltBeat(meter);
  const from = to - beat;
  const bar = barAt(score, from);
  if (here.length < 2 * beat || bar.at + bar.length < to || isCut(score, to)) return null;
  const sung = tune.findLast(({ at }) => at < to);
  if (!sung || sung.at > to - 2 * beat) return null;
  // The last note of the last bar of its phrase.
  const last = barAt(score, sung.at);
  if (to < last.at + last.length || (ends[score.bars.indexOf(last)] ?? 0) < ENDS) return null;
  if (!isWhole(shape, notes, here.at, from)) return null;
  const parts = beat === unitTicks(meter.unit) ? 2 : 3;
  const pitches = fillBetween({
    from: shape.notes.at(-1) ?? '',
    to: goal.notes.at(-1) ?? '',
    count: parts,
    scale: scaleOf(keyAt(score, from).key),
    sung: sung.at + sung.length > from ? sung.pitch : null,
  });
  if (!pitches) return null;
  const fingers = fingersOf(shape, pitches, goal);
  const part = beat / parts;
  return {
    from,
    to,
    notes: pitches.map((pitch, i): Note => ({
      at: from + i * part,
      length: part,
      pitches: [pitch],
      fingers: [fingers[i] ?? 3],
      soft: true,
      ...(part < QUARTER && i < parts - 1 ? { beam: true as const } : {}),
    })),
  };
}

/** Ways to finger a line of a few notes that are looked through: all that are any good. */
const WAYS = 40;

/**
 * By the rules for lines, from the finger on the top note before. From below it goes on to the finger on the top note that
 * it comes to; coming down onto a little finger the hand is put anew with the chord. Where the hand has to move at once,
 * the finger before is let go.
 */
function fingersOf(from: Shape, pitches: readonly PitchName[], to: Shape): readonly number[] {
  const [before, after] = [from.notes.at(-1) ?? '', to.notes.at(-1) ?? ''];
  const isRising = midiOf(pitches.at(-1) ?? after) < midiOf(after);
  const line = [before, ...pitches, ...(isRising ? [after] : [])];
  const free = pitches.map(() => null);
  const end = isRising ? [to.fingers.at(-1) ?? null] : [];
  const ways = ofLine(line, 'right', {
    fixed: [from.fingers.at(-1) ?? null, ...free, ...end],
    most: WAYS,
  });
  const whole = ways.find(({ fingers }) => isInTurn(line, fingers));
  if (whole) return whole.fingers.slice(1, pitches.length + 1);
  const anew = ofLine(line.slice(1), 'right', { fixed: [...free, ...end], most: WAYS });
  const own = anew.find(({ fingers }) => isInTurn(line.slice(1), fingers)) ?? anew[0];
  return own?.fingers.slice(0, pitches.length) ?? [];
}

/** One finger on a note that is repeated, another on any other. */
function isInTurn(line: readonly PitchName[], fingers: readonly number[]): boolean {
  return line.every((pitch, i) => {
    const before = line[i - 1];
    if (before === undefined) return true;
    return (midiOf(before) === midiOf(pitch)) === (fingers[i - 1] === fingers[i]);
  });
}

/** A section or a repeat ends: what follows on the page need not be what is played next. */
function isCut({ sections, bars }: Score, at: Ticks): boolean {
  return (
    sections.some(({ from, to }) => from === at || to === at) ||
    bars.some(
      (bar) =>
        (bar.at + bar.length === at && bar.repeatEnd) ||
        (bar.at === at && (bar.repeatStart || bar.endings.length > 0)),
    )
  );
}

/** Whether every note of the shape has been struck before the fill. */
function isWhole({ notes }: Shape, struck: readonly Note[], from: Ticks, to: Ticks): boolean {
  const before = struck.filter(({ at }) => at >= from && at < to);
  return notes.every((note) => before.some(({ pitches }) => pitches.includes(note)));
}

/** What was struck gives place to a fill; the next shape shows its fingers again, as the hand has moved. */
function placed(struck: readonly Note[], fill: Fill, goal: Shape): Note[] {
  const before = struck
    .filter(({ at }) => at < fill.from)
    .map((note) => {
      if (note.at + note.length <= fill.from) return note;
      const { beam: _, ...rest } = note;
      return { ...rest, length: fill.from - note.at };
    });
  const after = struck.filter(({ at }) => at >= fill.to);
  const next = after.find(({ pitches }) => pitches.length > 0);
  return [
    ...before,
    ...fill.notes,
    ...after.map((note) => (note === next ? { ...note, fingers: fingersIn(goal, note) } : note)),
  ];
}

/** The fingers of a shape on those of its notes that are struck. */
function fingersIn(shape: Shape, { pitches }: Note): number[] {
  return pitches.map((pitch) => shape.fingers[shape.notes.indexOf(pitch)] ?? 3);
}

function remarksOf(score: Score, fills: readonly Fill[]): HandRemark[] {
  return score.sections.flatMap((section): HandRemark[] => {
    const here = fills.filter(({ from }) => from >= section.from && from < section.to);
    if (here.length === 0) return [];
    const bars = sayBarList(here.map(({ from }) => barAt(score, from)));
    return [
      { at: section.from, words: `the soft single notes at the end of ${bars} may be left out` },
    ];
  });
}
