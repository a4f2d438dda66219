import { pitchClassOf } from '../pitch/pitch.ts';
import type { Score, Span, Ticks } from '../score/score.ts';
import { barLength, feltBeat, meterAt } from '../score/time.ts';
import { strikesIn } from './bass-notes.ts';
import type { Footing } from './bass-pedal.ts';
import { fifthOf } from './bass-tones.ts';
import {
  feltBeatsIn,
  isCutAt,
  kicksIn,
  secondPlaceIn,
  strongBeatsIn,
  type BassSong,
} from './bass-song.ts';
import type { PlayedChord } from './played-chords.ts';

/**
 * What a note of the bass is: the bass note of its chord, as the chord begins (`bass`) or struck again (`again`); the note
 * that stays under a new chord (`stays`); the fifth; the step into the next chord (`approach`). In a walking line a
 * strong or weak beat inside a chord, and the weak beat before the next (`leading`).
 */
export type SlotRole =
  'bass' | 'again' | 'stays' | 'fifth' | 'approach' | 'strong' | 'weak' | 'leading';

/** One note of the bass whose pitch is still to be found. */
export interface Slot extends Span {
  /** Index into the chords of the song. */
  readonly chord: number;
  readonly role: SlotRole;
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
export function slotsOf(song: BassSong, footings: readonly Footing[]): Slot[] {
  const { score, chords } = song;
  const leading = chords.map(({ at }, i) => {
    const [here, next] = [footings[i], footings[i + 1]];
    const goes = here && next && pitchClassOf(here.note) !== pitchClassOf(next.note);
    // Where the bass note stays there is nothing to step to; a walking line comes back to it.
    return goes || song.modeAt(at) === 'walking' ? leadingBeat(song, i) : null;
  });
  return score.bars.flatMap((bar, index) => {
    const end = bar.at + bar.length;
    return chords.flatMap(({ at, length }, chord): Slot[] => {
      const [from, to] = [Math.max(at, bar.at), Math.min(at + length, end)];
      if (to <= from) return [];
      const stays = footings[chord]?.stays === true;
      const inside = rolesIn(song, index, from, chord, leading[chord] ?? null, stays);
      const roles = [...inside].filter(([moment]) => moment >= from && moment < to);
      return roles
        .sort(([a], [b]) => a - b)
        .map(([moment, role], i, all) => ({
          from: moment,
          to: all[i + 1]?.[0] ?? to,
          chord,
          role,
        }));
    });
  });
}

/** What is struck in a bar under one chord, from where it is first there. */
function rolesIn(
  song: BassSong,
  bar: number,
  from: Ticks,
  chord: number,
  leading: Ticks | null,
  stays: boolean,
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
  for (const at of [...textured, ...kicks]) roles.set(at, 'again');
  if (mode === 'fifths') fifths(song, bar, from, chord, leading, roles);
  if (begins && stays) return roles.set(from, roles.get(from) ?? 'stays');
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
