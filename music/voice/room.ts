import { transposePitch, type Interval } from '../pitch/interval.ts';
import type { Key } from '../pitch/key.ts';
import type { Score, Ticks } from '../score/score.ts';
import { interval as intervalTo } from '../score/transpose.ts';
import { ROOM_GROUPS, SPREAD, type RoomGroup, type RoomShares } from './room-groups.ts';
import type { KeyInRoom, NoteInRoom } from './room-row.ts';
import { sungSections, type SungNote } from './sung.ts';

export { ASSUMED, ROOM_GROUPS, SPREAD, USUAL_ROOM } from './room-groups.ts';
export { percent, sayMost, sayNote, sayShare, sayThinnest } from './room-words.ts';
export type { RoomGroup, RoomGroupId, RoomShares } from './room-groups.ts';
export type { KeyInRoom, NoteInRoom } from './room-row.ts';

/**
 * The share of a room that is expected to sing a printed note in comfort: of each group, those whose lowest note lies at
 * or below it and whose highest at or above it, both ends spread normally and apart from each other. It is a model, and
 * nobody in the room was measured (`ASSUMED` says what it takes for granted).
 * @param midi the printed note, semitones, C4 = 60; men sing it an octave below
 */
export function shareAt(midi: number, room: RoomShares): number {
  const all = totalOf(room);
  if (all <= 0) return 0;
  return (
    ROOM_GROUPS.reduce((sum, group) => sum + partOf(room, group) * withinGroup(midi, group), 0) /
    all
  );
}

/** Of one group, 0–1. */
export function withinGroup(midi: number, { low, high, reads }: RoomGroup): number {
  const sung = reads === 'octave below' ? midi - 12 : midi;
  // A note is within where it is no more than half a step beyond the end.
  return normal((sung + 0.5 - low) / SPREAD) * normal((high + 0.5 - sung) / SPREAD);
}

/** Every note of the tune in a key, one verse's worth, with the share of the room that sings it in comfort. */
export function notesIn(score: Score, key: Key, room: RoomShares): NoteInRoom[] {
  const written = score.keys[0]?.key;
  return written ? moved(tuneOf(score), intervalTo(written, key), sharesIn(room)) : [];
}

/** Null where no tune is written or nobody is in the room. */
export function inKey(score: Score, key: Key, room: RoomShares): KeyInRoom | null {
  return inKeys(score, [key], room)[0] ?? null;
}

/** Keys side by side, the highest first; none where no tune is written or nobody is in the room. */
export function inKeys(score: Score, keys: readonly Key[], room: RoomShares): KeyInRoom[] {
  const written = score.keys[0]?.key;
  const tune = tuneOf(score);
  if (!written || tune.length === 0 || totalOf(room) <= 0) return [];
  const present = ROOM_GROUPS.filter((group) => partOf(room, group) > 0);
  const all = sharesIn(room);
  const own = present.map((group) => ({ group, shareOf: sharesIn({ [group.id]: 1 }) }));
  const times = timesOf(tune);
  const rows = keys.map((key): KeyInRoom => {
    const interval = intervalTo(written, key);
    const mean = (shareOf: SharesIn): number => meanOf(times, interval.semitones, shareOf);
    return {
      key,
      up: interval.semitones,
      share: mean(all),
      thinnest: thinnestOf(moved(tune, interval, all)),
      groups: own.map(({ group, shareOf }) => ({ group: group.id, share: mean(shareOf) })),
    };
  });
  return rows.toSorted((one, other) => other.up - one.up);
}

const tuneOf = (score: Score): SungNote[] => sungSections(score).flatMap(({ notes }) => notes);

type SharesIn = (midi: number) => number;

/** The same as `shareAt`, each pitch worked out once. */
function sharesIn(room: RoomShares): SharesIn {
  const known = new Map<number, number>();
  return (midi) => {
    const share = known.get(midi) ?? shareAt(midi, room);
    known.set(midi, share);
    return share;
  };
}

function moved(tune: readonly SungNote[], interval: Interval, shareOf: SharesIn): NoteInRoom[] {
  return tune.map(({ at, length, pitch, midi, bar, felt }) => {
    const share = shareOf(midi + interval.semitones);
    return { at, length, pitch: transposePitch(pitch, interval), bar, felt, share };
  });
}

/** Ticks at each pitch. */
function timesOf(tune: readonly SungNote[]): ReadonlyMap<number, Ticks> {
  const times = new Map<number, Ticks>();
  for (const { midi, length } of tune) times.set(midi, (times.get(midi) ?? 0) + length);
  return times;
}

function meanOf(times: ReadonlyMap<number, Ticks>, semitones: number, shareOf: SharesIn): number {
  let [sung, time] = [0, 0];
  for (const [midi, length] of times) {
    sung += length * shareOf(midi + semitones);
    time += length;
  }
  return sung / time;
}

function thinnestOf(notes: readonly NoteInRoom[]): NoteInRoom {
  return notes.reduce((thin, note) =>
    note.share < thin.share || (note.share === thin.share && note.length > thin.length)
      ? note
      : thin,
  );
}

const partOf = (room: RoomShares, { id }: RoomGroup): number => Math.max(0, room[id] ?? 0);

function totalOf(room: RoomShares): number {
  return ROOM_GROUPS.reduce((sum, group) => sum + partOf(room, group), 0);
}

/** Share of a normal distribution below z, to 1.5e-7 (Abramowitz & Stegun 1964, 7.1.26). */
function normal(z: number): number {
  const x = Math.abs(z) / Math.SQRT2;
  const t = 1 / (1 + 0.3275911 * x);
  const series =
    t *
    (0.254829592 + t * (-0.284496736 + t * (1.421413741 + t * (-1.453152027 + t * 1.061405429))));
  const erf = 1 - series * Math.exp(-x * x);
  return z < 0 ? (1 - erf) / 2 : (1 + erf) / 2;
}
