import { midiOf, type PitchName } from '../../pitch/pitch.ts';
import type { Score, Ticks } from '../../score/score.ts';
import { melodyOf, noteAt, soundingNotes, type SoundingNote } from '../../score/time.ts';
import { INTRODUCTION } from '../form/introduction.ts';

/** The tune of a score as sounding notes, of notes together the top one, in order. */
export function tuneOf(score: Score): SoundingNote[] {
  const melody = melodyOf(score);
  const notes = melody.notes.map((note) => ({ ...note, pitches: note.pitches.slice(-1) }));
  return soundingNotes({ ...melody, notes });
}

/**
 * What is sung at a moment, a note that is held into it too; null: nothing. In the introduction, where the singers rest,
 * it is what they will sing in the bars that it is taken from.
 */
export function sungAt(score: Score, at: Ticks): PitchName | null {
  return noteAt(melodyOf(score), inTheSong(score, at))?.pitches.at(-1) ?? null;
}

/** The tune with what the introduction is taken from where the singers still rest, in order, each bar of it by itself. */
export function tuneThroughout(score: Score): SoundingNote[] {
  const tune = tuneOf(score);
  const introduction = score.sections.find(({ id }) => id === INTRODUCTION);
  const before = score.bars.filter(({ at }) => introduction && at < introduction.to);
  const copied = before.flatMap((bar) => {
    const from = inTheSong(score, bar.at);
    if (from === bar.at) return [];
    return tune
      .filter(({ at }) => at >= from && at < from + bar.length)
      .map((note) => ({
        ...note,
        at: note.at - from + bar.at,
        length: Math.min(note.length, from + bar.length - note.at),
      }));
  });
  return [...copied, ...tune];
}

/** The place in the song that a place in its introduction is a copy of; any other is itself. */
function inTheSong({ bars, sections }: Score, at: Ticks): Ticks {
  const introduction = sections.find(({ id }) => id === INTRODUCTION);
  const index = bars.findLastIndex((bar) => bar.at <= at);
  const bar = bars[index];
  if (!introduction || !bar || at >= introduction.to || bar.copyOf === undefined) return at;
  // A bar that is cut in two stands twice with one number: the first half is a copy of the first.
  let half = 0;
  while (bars[index - half - 1]?.copyOf === bar.copyOf) half += 1;
  const all = bars.filter(({ number, copyOf }) => copyOf === undefined && number === bar.copyOf);
  const source = all[half] ?? all[0];
  return source ? source.at + at - bar.at : at;
}

/** How long each key of the octave is sung between two moments, in ticks, in the order they are first sung. */
export function sungBetween(
  tune: readonly SoundingNote[],
  from: Ticks,
  to: Ticks,
): ReadonlyMap<number, { readonly ticks: Ticks; readonly pitch: PitchName }> {
  const sung = new Map<number, { ticks: Ticks; pitch: PitchName }>();
  for (const { at, length, pitch } of tune) {
    const ticks = Math.min(at + length, to) - Math.max(at, from);
    if (ticks <= 0) continue;
    const key = midiOf(pitch) % 12;
    const before = sung.get(key);
    sung.set(key, { ticks: ticks + (before?.ticks ?? 0), pitch: before?.pitch ?? pitch });
  }
  return sung;
}
