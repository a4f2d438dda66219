import type { Role } from '../../parts/part.ts';
import type { StandMemory } from './least-change.ts';
import { pagesOf, weekOf } from './pages.ts';
import { HEARD } from './part-shelf.ts';
import type { StandService, StandSong } from './terms.ts';
import { waysOn } from './ways-on.ts';

/** Who is missed by those who play: they come first, for their parts take longest. */
const MISSED: readonly (Role | null)[] = [null, 'bass', 'drums'];

/**
 * Writes what everybody has on their stands, and what they would have without a bass or drums, before anybody asks: a part a
 * step, so that whoever asks meanwhile waits for one part only. Players come before singers.
 */
export function* warming(service: StandService, { parts }: StandMemory): Generator<void> {
  const week = weekOf(service.people);
  const songs = service.lines.filter((line): line is StandSong => line.score !== null);
  const ways = waysOn(service, ({ now }) => now.key);
  const played = new Set<Role>(['keys', 'bass']);
  for (const areFirst of [true, false]) {
    for (const without of MISSED) {
      if (without && !week.roles.includes(without)) continue;
      const roles = week.roles.filter((role) => role !== without);
      for (const song of songs) {
        for (const person of service.people) {
          const pages = pagesOf(
            song,
            person,
            { ...week, roles },
            song.now,
            song.playedIn[person.id],
            ways.get(song.id),
          );
          for (const page of pages) {
            if (HEARD[page.role].length === 0 || played.has(page.role) !== areFirst) continue;
            if (parts.has(song.score, page)) continue;
            parts.part(song.score, page);
            yield;
          }
        }
      }
    }
  }
}
