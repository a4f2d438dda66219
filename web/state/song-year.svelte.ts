import { Keys } from '#music';
import type { SongYear } from '#server/contract/year.ts';
import type { Trouble } from '#web/api/http.ts';
import { findYear } from '#web/api/library.ts';
import { addDays, sayDay } from './dates.ts';

export type YearSong = SongYear['songs'][number];
export type Sung = YearSong['sung'][number];

/** How the songs are laid: by how long they rested, or by how often they were sung. */
export type YearOrder = 'longest rested' | 'most often';

export interface YearLead {
  readonly id: string;
  readonly name: string;
  /** The fewest letters that no other lead begins with. */
  readonly short: string;
  /** How many songs, each once a service. */
  readonly times: number;
}

/** What was sung in the year up to a day, and who led it. */
export class SongYearState {
  /** The last day that counts. */
  readonly until: string;
  /** null: not there yet. */
  found = $state.raw<SongYear | null>(null);
  trouble = $state.raw<Trouble | null>(null);
  order = $state<YearOrder>('longest rested');
  /** Only what this member led; null: all. */
  lead = $state<string | null>(null);

  constructor(until: string) {
    this.until = until;
  }

  /** The one who led most first. */
  readonly leads: readonly YearLead[] = $derived(leadsOf(this.found?.songs ?? []));
  readonly songs: readonly YearSong[] = $derived.by(() => {
    const led = (this.found?.songs ?? []).filter(
      ({ sung }) => this.lead === null || sung.some(({ lead }) => lead?.id === this.lead),
    );
    return this.order === 'longest rested'
      ? led
      : led.toSorted((a, b) => b.sung.length - a.sung.length || a.title.localeCompare(b.title));
  });

  async load(): Promise<void> {
    this.trouble = null;
    const answer = await findYear(this.until);
    if (answer.ok) this.found = answer.value;
    else this.trouble = answer.trouble;
  }

  find(song: string | null): YearSong | null {
    return this.found?.songs.find(({ id }) => id === song) ?? null;
  }
}

function leadsOf(songs: readonly YearSong[]): YearLead[] {
  const times = new Map<string, { name: string; times: number }>();
  for (const { lead } of songs.flatMap(({ sung }) => sung)) {
    if (!lead) continue;
    times.set(lead.id, { name: lead.name, times: (times.get(lead.id)?.times ?? 0) + 1 });
  }
  const names = [...times.values()].map(({ name }) => name);
  return [...times]
    .map(([id, own]) => ({ id, ...own, short: shortOf(own.name, names) }))
    .toSorted((a, b) => b.times - a.times || a.name.localeCompare(b.name));
}

/** `R`; beside a Rolf: `Ru`. The whole name where it begins another's. */
export function shortOf(name: string, names: readonly string[]): string {
  const letters = [...name];
  const others = names.filter((other) => other !== name);
  for (let length = 1; length < letters.length; length += 1) {
    const short = letters.slice(0, length).join('');
    if (!others.some((other) => other.startsWith(short))) return short;
  }
  return name;
}

/** `on 20 September in F, led by Ruth`. */
export function saySung({ date, key, lead }: Sung, today: string): string {
  const led = lead ? `, led by ${lead.name}` : '';
  return `${sayDay(date, today)} in ${Keys.sayTonic(key)}${led}`;
}

/** The day before: a service that is planned counts what was before it. */
export const before = (day: string): string => addDays(day, -1);
