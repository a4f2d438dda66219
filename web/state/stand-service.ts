import {
  Congregation,
  type ArrangedPass,
  type Mishaps,
  type Score,
  type StandLine,
  type StandPerson,
  type StandPlan,
  type StandPlanLine,
  type StandService,
} from '#music';
import type { ServiceChange, ServiceItem } from '#server/contract/services.ts';
import type { ServicePage } from './service.svelte.ts';
import { ourTeam } from './team.svelte.ts';

/** Everything that decides what people have on their stands; null: it is not all here yet. */
export function standServiceOf(page: ServicePage): StandService | null {
  if (!page.service || page.people.list === null) return null;
  const songs = page.items.flatMap(({ song }) => song ?? []);
  const isComing = songs.some((id) => !page.shelf.find(id) && !page.shelf.troubleOf(id));
  if (isComing) return null;
  return {
    lines: page.items.map((item) => lineOf(page, item)),
    people: page.members.map((member): StandPerson => {
      const { id, name, roles, level, levels, instruments, reach, comfortable, limit, child } =
        member;
      return { id, name, roles, level, levels, instruments, reach, comfortable, limit, child };
    }),
    congregation: Congregation.voice(ourTeam.congregation),
  };
}

/** A song that is not here stays where it is, as a reading does. */
function lineOf(page: ServicePage, item: ServiceItem): StandLine {
  const title = page.titleOf(item);
  const shelved = page.shelf.find(item.kind === 'song' ? item.song : null);
  const key = page.keyOf(item);
  if (!shelved || !key) {
    return { id: item.id, title: item.title, score: null, kind: item.kind };
  }
  const { song, arrangement } = shelved;
  const { tempo, density, form } = arrangement;
  return {
    id: item.id,
    title,
    score: song.score,
    arrangement: { tempo, density, form: knownPasses(item.form ?? form, song.score) },
    usual: arrangement.key,
    now: { key, lead: page.leadOf(item) },
    named: item.lead,
    usualLead: arrangement.lead,
    playedIn: item.playedIn,
    rungs: item.rungs,
    wayOn: item.wayOn,
  };
}

/** Passes through what the song has still; null: as the song has it. */
function knownPasses(
  form: readonly ArrangedPass[] | null,
  { sections, verses, form: own }: Score,
): readonly ArrangedPass[] | null {
  const sung = new Set([...verses.map(({ number }) => number), ...own.map(({ verse }) => verse)]);
  const known = form?.filter(
    ({ section, verse }) =>
      sections.some(({ id }) => id === section) && (verse === null || sung.has(verse)),
  );
  return known?.length ? known : null;
}

/**
 * What a plan changes of a service, as it is sent: who serves, and the lines. A line whose lead follows by itself from who
 * serves names nobody new.
 * @param only the line that is taken; null: all
 */
export function changeOf(
  plan: StandPlan,
  mishaps: Mishaps,
  page: Pick<ServicePage, 'items' | 'service'>,
  leadAfter: (item: ServiceItem) => string | null,
  only: string | null,
): ServiceChange {
  const people = (page.service?.people ?? []).flatMap((person) => {
    const mishap = mishaps[person.member];
    const after = plan.people.find(({ id }) => id === person.member);
    if (!mishap) return [person];
    if (!after) return [];
    if (mishap.kind === 'voice') return [{ ...person, voice: mishap.range }];
    return [{ ...person, roles: [...after.roles] }];
  });
  const items = page.items.map((item) => {
    const line = plan.lines.find((each) => each.item === item.id);
    return line && (only === null || only === item.id) ? changedLine(item, line, leadAfter) : item;
  });
  return { people, items };
}

function changedLine(
  item: ServiceItem,
  { key, lead, playedIn, changed }: StandPlanLine,
  leadAfter: (item: ServiceItem) => string | null,
): ServiceItem {
  return {
    ...item,
    ...(changed.key ? { key, playedIn: { ...playedIn } } : {}),
    ...(leadAfter(item) === lead ? {} : { lead }),
  };
}
