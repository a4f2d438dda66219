import { minutesOf, ofSong, sayMinutes } from '../order/lengths.ts';
import { sayLongest, sayOver } from '../order/over-run.ts';
import { words as missingRoles } from '../order/missing-roles.ts';
import { sayOnward, withOnward } from '../order/onward.ts';
import { sayTextures } from '../order/texture-words.ts';
import type { PlayedKey } from '../hand/played-key.ts';
import type { Arrangement } from '../parts/arrangement.ts';
import { introductionOf, withIntroduction } from '../parts/form/introduction.ts';
import { keyAtEnd, upOf } from '../parts/form/keys-of-form.ts';
import { sayOrder } from '../parts/form/order-words.ts';
import { sayPassLeads } from '../parts/form/pass-leads.ts';
import type { Role } from '../parts/part.ts';
import type { WayKind } from '../score/ways/transition.ts';
import { isWork } from '../parts/role-words.ts';
import { sayKey } from '../pitch/key.ts';
import { listed } from '../score/number-words.ts';
import type { Score } from '../score/score.ts';
import { countedTempo } from '../score/time.ts';
import { tempoOf } from './sheet.ts';

/** One line of the leader's order of service. */
export interface OrderLine {
  readonly item: string;
  readonly kind: 'song' | 'reading' | 'prayer' | 'talk' | 'other';
  /** When it begins on the clocks there: `10:34`; null where a length before it is not known. */
  readonly begins: string | null;
  /** Whole minutes, rounded up; null: not known. */
  readonly minutes: number | null;
  readonly title: string;
  /** `F major`; null: not a song. */
  readonly key: string | null;
  /** Who leads the singing. */
  readonly lead: string | null;
  /** `verses 1 to 3, refrain after each`; empty: not a song. */
  readonly form: string;
  /** `♩ = 76` in words: `quarter = 76`; empty where none is known. */
  readonly tempo: string;
  readonly note: string;
  /** Rubric: who does not serve that leads it, how it builds, who leads which pass, who reads it in another key. */
  readonly directions: readonly string[];
  /** Rubric: how the music goes on to the next song; empty: nothing is planned. */
  readonly onward: string;
}

/** The whole service on one page, for whoever leads it. */
export interface OrderSheet {
  readonly title: string;
  /** `Sunday, 29 November 2026, 10:30`. */
  readonly when: string;
  readonly place: string;
  readonly lines: readonly OrderLine[];
  /** Where the name says already what they do, no role stands beside it. */
  readonly people: readonly { readonly name: string; readonly roles: readonly string[] }[];
  /** What a missing role means for the others: `No bass this week: the left hand at the keys has the low notes.` */
  readonly missing: readonly string[];
  /** `about 48 minutes; the length of the talk is not known`. */
  readonly length: string;
  /** `6 minutes over: it has to end at 11:30; the longest are …`; empty: it is not, as far as is known. */
  readonly over: string;
}

/** An item of the order with what is known of it. */
export interface OrderItem {
  readonly item: string;
  readonly kind: OrderLine['kind'];
  /** Empty: it is called by its kind. */
  readonly title: string;
  /** Whole minutes that a person gave it; null: a song's own length, of anything else not known. */
  readonly minutes: number | null;
  readonly note: string;
  /** Of a song: how the music goes on to the next one; null: nothing is planned. */
  readonly wayOn: WayKind | null;
  /** By name. */
  readonly lead: string | null;
  /** Null: not a song, or one that is not there. */
  readonly song: { readonly score: Score; readonly arrangement: Arrangement } | null;
  /** Who reads it in another key than it sounds in. */
  readonly reads: readonly { readonly name: string; readonly played: PlayedKey }[];
  /** Who was named to lead it, or a pass of it, and does not serve. */
  readonly away: readonly { readonly name: string; readonly leads: 'song' | 'pass' }[];
}

export interface OrderInput {
  readonly title: string;
  /** The date in words, with its time. */
  readonly when: string;
  /** `10:30`, on the clocks there. */
  readonly begins: string;
  /** When it has to end; missing or null: whenever it ends. */
  readonly until?: string | null;
  readonly place: string;
  readonly items: readonly OrderItem[];
  readonly people: readonly { readonly name: string; readonly roles: readonly Role[] }[];
}

const DAY = 24 * 60;

/** `23:50` and 20 minutes: `00:10`. */
function clock(begins: string, minutes: number): string {
  const [hours = 0, rest = 0] = begins.split(':').map(Number);
  const time = (hours * 60 + rest + minutes) % DAY;
  const two = (figure: number) => String(figure).padStart(2, '0');
  return `${two(Math.floor(time / 60))}:${two(time % 60)}`;
}

function minutesFor({ minutes, song }: OrderItem): number | null {
  if (minutes !== null || !song) return minutes;
  const { seconds } = ofSong(song.score, song.arrangement);
  return seconds === null ? null : minutesOf(seconds);
}

function arrangedForm({ score, arrangement }: NonNullable<OrderItem['song']>): Score {
  return { ...score, form: arrangement.form ?? score.form };
}

function sayTempo({ score, arrangement }: NonNullable<OrderItem['song']>): string {
  const given = score.untimed ? null : (arrangement.tempo ?? score.tempo);
  const meter = score.meters[0]?.meter;
  const tempo = tempoOf(meter ? countedTempo(meter, given) : given);
  return tempo ? `${tempo.dots > 0 ? 'dotted ' : ''}${tempo.note} = ${tempo.perMinute}` : '';
}

/** `F major`; where the last pass is sung in another key: `F major, at the end G major`. */
function sayKeys({ score, arrangement }: NonNullable<OrderItem['song']>): string {
  const key = sayKey(arrangement.key);
  const last = (arrangement.form ?? score.form).at(-1);
  return last && upOf(last) !== 0
    ? `${key}, at the end ${sayKey(keyAtEnd(arrangement, score))}`
    : key;
}

function songWords(song: NonNullable<OrderItem['song']>, lead: string | null) {
  const own = arrangedForm(song);
  const played = own.untimed ? own : withIntroduction(own, introductionOf(own));
  return {
    key: sayKeys(song),
    form: sayOrder(played),
    tempo: sayTempo(song),
    builds: sayTextures(own),
    leads: sayPassLeads(own, lead),
  };
}

/** `Ruth leads this song but does not serve this week: Ada leads instead`. */
function sayAway({ away, lead }: OrderItem): string[] {
  const instead = lead === null ? '' : `: ${lead} leads instead`;
  return away.map(({ name, leads }) => {
    const what = leads === 'song' ? 'this song' : 'a pass of this song';
    return `${name} leads ${what} but does not serve this week${instead}`;
  });
}

function lineOf(
  item: OrderItem,
  begins: string | null,
  minutes: number | null,
  onward: string,
): OrderLine {
  const song = item.song && songWords(item.song, item.lead);
  return {
    item: item.item,
    kind: item.kind,
    begins,
    minutes,
    title: item.title,
    key: song?.key ?? null,
    lead: item.lead,
    form: song?.form ?? '',
    tempo: song?.tempo ?? '',
    note: item.note,
    directions: [
      ...sayAway(item),
      ...[song?.builds ?? '', song?.leads ?? ''].filter((words) => words !== ''),
      ...item.reads.map(({ name, played }) => `${name}: ${played.words}`),
    ],
    onward,
  };
}

/** `about 48 minutes; the length of the talk is not known`. */
function sayWhole(items: readonly OrderItem[], minutes: readonly (number | null)[]): string {
  if (items.length === 0) return 'nothing stands in the order yet';
  const known = minutes.reduce<number>((sum, each) => sum + (each ?? 0), 0);
  const missing = items.filter((_, i) => minutes[i] === null).map(sayItem);
  if (missing.length === items.length) return 'no length is known yet';
  const said = `about ${sayMinutes(known)}`;
  if (missing.length === 0) return said;
  const [length, is] = missing.length === 1 ? ['length', 'is'] : ['lengths', 'are'];
  return `${said}; the ${length} of ${listed(missing)} ${is} not known`;
}

/** An over-run, and what is longest. */
function sayOverOf(
  { begins, until = null, items }: OrderInput,
  minutes: readonly (number | null)[],
): string {
  const over = sayOver(begins, until, minutes);
  if (over === '') return '';
  const named = items.map((item, i) => ({ name: sayItem(item), minutes: minutes[i] ?? null }));
  return `${over}; the longest are ${sayLongest(named)}`;
}

/** `the talk`; where it has a name: `“Welcome”`. */
function sayItem({ kind, title, song }: OrderItem): string {
  const name = title || song?.score.facts.title;
  if (name) return `“${name}”`;
  return kind === 'other' ? 'an item' : `the ${kind}`;
}

/**
 * The order of a service for whoever leads it: when each item begins, in which key, who leads, how it builds and who
 * reads it in another key; then the people, and what a missing role means.
 */
export function of(input: OrderInput): OrderSheet {
  const items = withOnward(input.items);
  const minutes = items.map(minutesFor);
  let at: number | null = 0;
  const lines = items.map((item, i) => {
    const length = minutes[i] ?? null;
    const begins = at === null ? null : clock(input.begins, at);
    at = at === null || length === null ? null : at + length;
    return lineOf(item, begins, length, sayOnward(items, i));
  });
  return {
    title: input.title,
    when: input.when,
    place: input.place,
    lines,
    people: input.people.map(({ name, roles }) => ({
      name,
      roles: isWork(name, roles) ? [] : roles,
    })),
    missing: missingRoles([...new Set(input.people.flatMap(({ roles }) => roles))]),
    length: sayWhole(input.items, minutes),
    over: sayOverOf(input, minutes),
  };
}
