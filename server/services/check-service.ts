import type { ServiceFacts, StoredItem, StoredPerson } from '../store/services.store.ts';
import type { TeamRooms } from '../store/store.ts';
import { invalidInput } from './invalid-input.ts';
import { leadsIn } from './pass-leads.ts';
import { Refusal } from './refusal.ts';
import { requireForm, requireMode } from './require-form.ts';
import { requireRange } from './require-range.ts';
import { isZone } from './service-time.ts';

/** The services of this app lie between them; an instant beyond has no date that every clock can show. */
const [FIRST_DAY, LAST_DAY] = ['1900-01-01', '2199-12-31'];

function checkTime({ date, zone }: Partial<ServiceFacts>): void {
  if (date !== undefined && (date < FIRST_DAY || date > LAST_DAY)) {
    throw invalidInput('date', `A service is between 1900 and 2199; ${date} is not.`);
  }
  if (zone !== undefined && !isZone(zone)) {
    throw invalidInput(
      'zone',
      `No clocks are known for “${zone}”; a time zone is named like Europe/Berlin.`,
    );
  }
}

/** Refuses what stands twice. */
function checkOnce(ids: readonly string[], field: (at: number) => string, said: string): void {
  const twice = ids.findIndex((id, at) => ids.indexOf(id) < at);
  if (twice < 0) return;
  const first = ids.indexOf(ids[twice] ?? '');
  throw invalidInput(field(twice), `${said} ${first + 1} and ${twice + 1} are the same.`);
}

/** What only a song has. */
function checkKind(item: StoredItem, at: number): void {
  const line = `Line ${at + 1} of the order`;
  if (item.kind === 'song') {
    if (item.song === null) {
      throw invalidInput(`items.${at}.song`, `${line} is a song, and no song is named.`);
    }
    return;
  }
  const { song, key, form, playedIn, rungs, wayOn } = item;
  const own = {
    song,
    key,
    form,
    playedIn: Object.keys(playedIn).length > 0 || null,
    rungs: Object.keys(rungs).length > 0 || null,
    wayOn,
  };
  const extra = Object.entries(own).find(([, value]) => value !== null)?.[0];
  if (extra === undefined) return;
  const names = {
    song: 'a song',
    key: 'a key',
    form: 'a form',
    rungs: 'what somebody plays',
    wayOn: 'a way to the next song',
  };
  const what = names[extra as keyof typeof names] ?? 'a key to play in';
  throw invalidInput(`items.${at}.${extra}`, `${line} is no song, and ${what} is named there.`);
}

const same = (a: unknown, b: unknown): boolean => JSON.stringify(a) === JSON.stringify(b);

/** Songs, keys and forms that are new to the order. What stood there already may have been deleted since. */
async function checkSongs(
  rooms: TeamRooms,
  items: readonly StoredItem[],
  before: readonly StoredItem[],
): Promise<void> {
  const isNew = (item: StoredItem) =>
    !before.some(
      ({ song, key, form }) => song === item.song && same(key, item.key) && same(form, item.form),
    );
  const named = items.flatMap((item) => (item.song !== null && isNew(item) ? [item.song] : []));
  if (named.length === 0) return;
  const found = await rooms.songs.findAll([...new Set(named)]);
  items.forEach((item, at) => {
    if (item.song === null || !isNew(item)) return;
    const song = found.find(({ id }) => id === item.song);
    if (song) {
      if (item.key) requireMode(song, item.key);
      // The song may have been edited since: what the order had from it stays, and counts again when the song has it again.
      const isNewForm = !before.some((each) => each.song === song.id && same(each.form, item.form));
      if (isNewForm) requireForm(`items.${at}.form`, song, item.form);
    } else if (!before.some((each) => each.song === item.song)) {
      const field = `items.${at}.song`;
      const message = `Line ${at + 1} of the order names a song that is not here; if it was deleted, it can be restored from the list.`;
      const problems = [{ code: 'unknown-song', field, message }];
      throw new Refusal('unknown-song', `${message} Nothing was changed.`, { problems });
    }
  });
}

interface Named {
  readonly member: string;
  readonly field: string;
}

function namedIn({ items = [], people = [] }: Partial<ServiceFacts>): Named[] {
  const inItems = items.flatMap(({ lead, form, playedIn, rungs }, at) => [
    ...(lead === null ? [] : [{ member: lead, field: `items.${at}.lead` }]),
    ...leadsIn(`items.${at}.form`, form),
    ...Object.keys(playedIn).map((member) => ({
      member,
      field: `items.${at}.playedIn.${member}`,
    })),
    ...Object.keys(rungs).map((member) => ({ member, field: `items.${at}.rungs.${member}` })),
  ]);
  const inPeople = people.map(({ member }, at) => ({ member, field: `people.${at}.member` }));
  return [...inItems, ...inPeople];
}

/** Members that are new to the service. */
async function checkMembers(
  rooms: TeamRooms,
  facts: Partial<ServiceFacts>,
  before: Partial<ServiceFacts>,
): Promise<void> {
  const known = new Set(namedIn(before).map(({ member }) => member));
  const named = namedIn(facts).filter(({ member }) => !known.has(member));
  if (named.length === 0) return;
  const found = await rooms.members.findAll([...new Set(named.map(({ member }) => member))]);
  const missing = named.find(({ member }) => !found.some(({ id }) => id === member));
  if (!missing) return;
  const message = `No member has the id ${missing.member}; if they were deleted, they can be restored from the list.`;
  throw new Refusal('unknown-member', `${message} Nothing was changed.`, {
    problems: [{ code: 'unknown-member', field: missing.field, message }],
  });
}

function checkPeople(people: readonly StoredPerson[]): void {
  const members = people.map(({ member }) => member);
  checkOnce(members, (at) => `people.${at}.member`, 'People');
  people.forEach(({ voice }, at) => requireRange(`people.${at}.voice`, voice));
}

/**
 * Refuses what a service cannot be. Its names are songs and members of the team, or stood in it before.
 * @param facts what is to be written; what is missing stays as it is
 * @param before the service as it is, or nothing
 */
export async function checkService(
  rooms: TeamRooms,
  facts: Partial<ServiceFacts>,
  before: Partial<ServiceFacts> = {},
): Promise<void> {
  checkTime(facts);
  const { items, people } = facts;
  if (items) {
    const ids = items.map(({ id }) => id);
    checkOnce(ids, (at) => `items.${at}.id`, 'The ids of lines');
    items.forEach(checkKind);
  }
  if (people) checkPeople(people);
  if (items) await checkSongs(rooms, items, before.items ?? []);
  await checkMembers(rooms, facts, before);
}
