import type { Onward } from '../../parts/arrangement.ts';
import type { Key } from '../../pitch/key.ts';
import { onwardAt, sayOnward, type OrderedItem } from '../onward.ts';
import type { StandLine, StandService, StandSong } from './terms.ts';

/** By song of a service: how it goes on to the next one; missing: nothing is chosen, or it is there no more. */
export type WaysOn = ReadonlyMap<string, Onward>;

/** The ways that were chosen, between the keys that the songs have. @param keyOf of a song, as it sounds */
export function waysOn({ lines }: StandService, keyOf: (song: StandSong) => Key): WaysOn {
  if (lines.every((line) => line.score === null || !line.wayOn)) return new Map();
  const items = lines.map((line) => orderedOf(line, keyOf));
  return new Map(
    lines.flatMap(({ id }, at): [string, Onward][] => {
      const onward = onwardAt(items, at);
      return onward ? [[id, onward]] : [];
    }),
  );
}

/** Ways that are there no more between other keys: `After “Eventide”: no dominant between …; choose another way.` */
export function sayWaysGone(
  { lines }: StandService,
  [before, after]: readonly [WaysOn, WaysOn],
  keyOf: (song: StandSong) => Key,
): string[] {
  const gone = lines.filter(({ id }) => before.has(id) && !after.has(id));
  if (gone.length === 0) return [];
  const items = lines.map((line) => orderedOf(line, keyOf));
  return gone.map((line) => `After “${line.title}”: ${sayOnward(items, lines.indexOf(line))}.`);
}

function orderedOf(line: StandLine, keyOf: (song: StandSong) => Key): OrderedItem {
  const { title } = line;
  if (line.score === null) return { kind: line.kind ?? 'other', title, wayOn: null, song: null };
  const { score, wayOn = null } = line;
  const arrangement = { ...line.arrangement, key: keyOf(line) };
  return { kind: 'song', title, wayOn, song: { score, arrangement } };
}
