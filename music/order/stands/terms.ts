import type { Key } from '../../pitch/key.ts';
import type { PlayedKey } from '../../hand/played-key.ts';
import type { TeamMember } from '../../parts/page-players.ts';
import type { Role } from '../../parts/part.ts';
import type { OwnRungs } from '../../parts/rungs.ts';
import type { Range, Singer } from '../../voice/range.ts';
import type { OrderCost, OtherLine, SongToPlan } from '../best/terms.ts';
import type { OrderedItem } from '../onward.ts';
import type { WayKind } from '../../score/ways/transition.ts';

/** Somebody who serves, with this week's voice and what they do this week. */
export interface StandPerson extends TeamMember {
  readonly name: string;
  readonly roles: readonly Role[];
  readonly limit: Range | null;
  /** Missing: no child. */
  readonly child?: boolean;
}

/** A song of the order with everything that decides what people have on their stands for it. */
export interface StandSong extends SongToPlan {
  /** Whom the line names to lead; null: nobody, so that it is as usual. */
  readonly named: string | null;
  /** Who usually leads it. */
  readonly usualLead: string | null;
  /** By member: the tonic of the page where it is not the one that sounds. */
  readonly playedIn: Readonly<Record<string, string>>;
  /** By member: what they play of this song where it is not as their levels say. */
  readonly rungs: Readonly<Record<string, OwnRungs>>;
  /** How the music goes on to the next song; missing or null: nothing is chosen. */
  readonly wayOn?: WayKind | null;
}

/** A line without its music: something that is spoken, or a song that is not there. */
export interface OtherStandLine extends OtherLine {
  /** Missing: something that is spoken. */
  readonly kind?: OrderedItem['kind'];
}

export type StandLine = StandSong | OtherStandLine;

/** A service as everybody has it on their stands. */
export interface StandService {
  readonly lines: readonly StandLine[];
  readonly people: readonly StandPerson[];
  readonly congregation: Singer | null;
}

/** What happened to somebody: they cannot come; cannot sing today and play all the same; sing within other notes this week. */
export type Mishap =
  | { readonly kind: 'away' }
  | { readonly kind: 'silent' }
  | { readonly kind: 'voice'; readonly range: Range };

/** By member. */
export type Mishaps = Readonly<Record<string, Mishap>>;

/** What a line of the order of service says otherwise than it did. */
export type OrderOther = 'other leads' | 'other keys' | 'other ways on';

/** What becomes of one page of somebody who stays. */
export interface PageChange {
  readonly member: string;
  readonly name: string;
  readonly role: Role;
  /**
   * `same`: nothing; `words`: not a note, but what the page says; `bars`: some bars; `key`: the whole page in another key;
   * `new`: they had no such page; `order`: the line of the order of service, for who leads it.
   */
  readonly kind: 'same' | 'words' | 'bars' | 'key' | 'new' | 'order';
  /** Of an `order`: what its line says otherwise. */
  readonly order?: readonly OrderOther[];
  /** Bars that differ. */
  readonly bars: number;
  /** How it is read in another key than sounds from now on, where that is otherwise than it was; null: nothing is set any more. */
  readonly setting?: PlayedKey | null;
  /** `Marit’s left hand, bars 3 and 4`; empty where neither page nor setting changes. */
  readonly words: string;
}

/** One song as it is done now. */
export interface StandPlanLine {
  readonly item: string;
  readonly key: Key;
  readonly lead: string | null;
  /** By member who has one: the tonic that the page is written in. */
  readonly playedIn: Readonly<Record<string, string>>;
  readonly changed: { readonly key: boolean; readonly lead: boolean };
  /** What voices and hands pay for it. */
  readonly costs: readonly OrderCost[];
}

/** What becomes of everybody’s pages of one song, of those who stay. */
export interface LinePages {
  readonly item: string;
  readonly pages: readonly PageChange[];
  /** Points of `STAND_PRICES`. */
  readonly points: number;
}

/** How a service goes on after a mishap. */
export interface StandPlan {
  /** The songs, in their order. */
  readonly lines: readonly StandPlanLine[];
  /** Who serves now, and as what. */
  readonly people: readonly StandPerson[];
  /** What a leader should know: songs that nobody can lead in comfort, or at all. */
  readonly problems: readonly string[];
}

/**
 * What changes on the stands cost, in points. They are ours. A bar that differs costs each player one. A singer keeps the
 * words and is led by the ear, so that a bar costs a quarter there, in another key as in another line, a page rounded up. A
 * button or a capo is set once for a song.
 */
export const STAND_PRICES = {
  bar: 1,
  barSung: 0.25,
  setting: 3,
  /** Somebody leads who neither led it here nor usually does. */
  newLead: 10,
} as const;
