import { noteOf, pitchClassOf, type NoteName } from '../../pitch/pitch.ts';
import type { Score, Span, Ticks } from '../../score/score.ts';
import { barLength, feltBeat, meterAt } from '../../score/time.ts';
import { strikesIn } from './bass-notes.ts';
import { bassOf, type Footing } from './bass-pedal.ts';
import { fifthOf } from './bass-tones.ts';
import {
  feltBeatsIn,
  isCutAt,
  kicksIn,
  secondPlaceIn,
  strongBeatsIn,
  type BassSong,
} from './bass-song.ts';
import type { Stretch, WrittenNote } from './bass-written.ts';
import type { PlayedChord } from '../played-chords.ts';

/**
 * What a note of the bass is: the bass note of its chord, as the chord begins (`bass`) or struck again (`again`); the note
 * that stays under a new chord (`stays`); the fifth; the step into the next chord (`approach`). In a walking line a
 * strong or weak beat inside a chord, and the weak beat before the next (`leading`). Of the bass that is written in the
 * song a note inside a chord (`written`), or a step between (`passing`).
 */
export type SlotRole =
  | 'bass'
  | 'again'
  | 'stays'
  | 'fifth'
  | 'approach'
  | 'strong'
  | 'weak'
  | 'leading'
  | 'written'
  | 'passing';

/** One note of the bass whose pitch is still to be found. */
export interface Slot extends Span {
  /** Index into the chords of the song. */
  readonly chord: number;
  readonly role: SlotRole;
  /** The note of the song that it is. */
  readonly written?: WrittenNote;
}

/** The last felt beat of a chord of two beats or more, where its next chord follows wherever it is played; else null. */
export function leadingBeat({ score, chords }: BassSong, index: number): Ticks | null {
  const [here, next] = [chords[index], chords[index + 1]];
  if (!here || !next) return null;
  const ends = here.at + here.length;
  const meter = meterAt(score, ends - 1);
  const beat = feltBeat(meter);
  if (next.at !== ends || here.length < 2 * beat || barLength(meter) === null) return null;
  if (isCutAt(score, ends)) return null;
  const bar = score.bars.findIndex(({ at, length }) => at < ends && at + length >= ends);
  return feltBeatsIn(score, bar).includes(ends - beat) ? ends - beat : null;
}

/** All notes of the bass in order, bar by bar; what lies between them is rest. */
export function slotsOf(
  song: BassSong,
  footings: readonly Footing[],
  stretches: readonly Stretch[],
  written: ReadonlyMap<Ticks, readonly WrittenNote[]>,
): Slot[] {
  const leading = song.chords.map((chord, i) => {
    const next = noteUnder(song, footings, written, i + 1);
    const goes = next !== null && pitchClassOf(next) !== pitchClassOf(bassOf(chord));
    // Where the bass note stays there is nothing to step to; a walking line comes back to it.
    return goes || song.modeAt(chord.at) === 'walking' ? leadingBeat(song, i) : null;
  });
  return stretches.flatMap((stretch): Slot[] => {
    const { from, to, chord } = stretch;
    const notes = written.get(from);
    const footing = footings[chord] as Footing;
    const roles = [...rolesIn(song, stretch, leading[chord] ?? null, footing, notes)];
    return roles
      .filter(([moment]) => moment >= from && moment < to)
      .sort(([a], [b]) => a - b)
      .map(([moment, role], i, all): Slot => {
        const note = notes?.find((each) => each.from <= moment && moment < each.to);
        const until = all[i + 1]?.[0] ?? to;
        return { from: moment, to: until, chord, role, ...(note ? { written: note } : {}) };
      });
  });
}

/** The note with which the bass begins under a chord; null: there is no such chord. */
export function noteUnder(
  { chords }: BassSong,
  footings: readonly Footing[],
  written: ReadonlyMap<Ticks, readonly WrittenNote[]>,
  chord: number,
): NoteName | null {
  const first = written.get(chords[chord]?.at ?? -1)?.[0];
  return first ? noteOf(first.pitch) : (footings[chord]?.note ?? null);
}

/** What is struck in a bar under one chord, from where it is first there. */
function rolesIn(
  song: BassSong,
  { bar, chord, from }: Stretch,
  leading: Ticks | null,
  { pedal, stays }: Footing,
  notes: readonly WrittenNote[] | undefined,
): Map<Ticks, SlotRole> {
  const { score } = song;
  const begins = song.chords[chord]?.at === from;
  const mode = song.modeAt(from);
  const roles = new Map<Ticks, SlotRole>();
  if (mode === 'walking') {
    walk(song, bar, from, chord, leading, roles);
    return roles.set(from, begins ? 'bass' : (roles.get(from) ?? 'strong'));
  }
  const textured = strikesIn(score, bar, song.textureAt);
  const kicks = song.hasDrumsAt(from) ? kicksIn(score, bar) : [];
  const struck = new Set([...textured, ...kicks]);
  for (const at of struck) roles.set(at, 'again');
  for (const note of notes ?? []) roles.set(note.from, note.passing ? 'passing' : 'written');
  const inFifths = mode === 'fifths' || (mode === 'written' && !notes && !pedal);
  if (inFifths) fifths(song, bar, from, chord, leading, roles);
  if (begins && stays) return roles.set(from, struck.has(from) ? 'again' : 'stays');
  return roles.set(from, begins ? 'bass' : (roles.get(from) ?? 'again'));
}

/** On every felt beat; the last chord is held, and where something else may follow the line ends on a chord tone. */
function walk(
  { score, chords, last }: BassSong,
  bar: number,
  from: Ticks,
  chord: number,
  leading: Ticks | null,
  roles: Map<Ticks, SlotRole>,
): void {
  const { at, length } = chords[chord] as PlayedChord;
  if (chord === last) {
    roles.set(from, 'again');
    return;
  }
  const strong = strongBeatsIn(score, bar);
  const beats = feltBeatsIn(score, bar).filter((beat) => beat >= from && beat < at + length);
  for (const beat of beats) {
    const isLast = beat === beats.at(-1) && leading === null;
    roles.set(
      beat,
      strong.includes(beat) || isLast ? 'strong' : beat === leading ? 'leading' : 'weak',
    );
  }
}

/** The chord on which the song ends keeps its bass note. */
function fifths(
  { score, chords, textureAt, last }: BassSong,
  bar: number,
  from: Ticks,
  chord: number,
  leading: Ticks | null,
  roles: Map<Ticks, SlotRole>,
): void {
  if (chord === last) return;
  const here = chords[chord] as PlayedChord;
  const beat = feltBeat(meterAt(score, from));
  const second = secondPlaceIn(score, bar);
  const start = score.bars[bar]?.at ?? 0;
  const hasFifth = fifthOf(here.chord) !== null;
  if (hasFifth && swaysInThree(score, from, textureAt(from))) {
    // The chords have the other beats: bars of root and of fifth in turn (common practice).
    if (barsSince(score, here.at, bar) % 2 === 1) roles.set(start, 'fifth');
  } else if (hasFifth && second !== null && second >= from + beat) {
    roles.set(second, 'fifth');
    for (const at of roles.keys()) if (at > second) roles.set(at, 'fifth');
  }
  if (leading !== null) roles.set(leading, 'approach');
}

function swaysInThree(score: Score, at: Ticks, texture: string): boolean {
  const meter = meterAt(score, at);
  return texture === 'swaying' && barLength(meter) === 3 * feltBeat(meter);
}

/** How many bar lines lie between a moment and a bar. */
function barsSince({ bars }: Score, at: Ticks, bar: number): number {
  return bar - bars.findIndex((each) => each.at <= at && at < each.at + each.length);
}
