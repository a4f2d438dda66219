import type { Key } from '../../pitch/key.ts';
import type { Arrangement, Player } from '../../parts/arrangement.ts';
import type { Score } from '../../score/score.ts';
import type { Singer } from '../../voice/range.ts';

/** A song of a service as it stands, and what of it may not change. */
export interface SongToPlan {
  readonly id: string;
  readonly title: string;
  /** In its own key. */
  readonly score: Score;
  readonly arrangement: Omit<Arrangement, 'key'>;
  /** The key that the team usually has it in. */
  readonly usual: Key;
  /** As it stands in the order now. */
  readonly now: { readonly key: Key; readonly lead: string | null };
  readonly pinned?: { readonly place?: boolean; readonly key?: boolean; readonly lead?: boolean };
}

/** A line of the order that is no song: it stays where it is. */
export interface OtherLine {
  readonly id: string;
  readonly title: string;
  readonly score: null;
}

export type LineToPlan = SongToPlan | OtherLine;

/** This week's voices and hands. */
export interface OrderTeam {
  /** Everybody who sings and whose range is known, leads among them. */
  readonly singers: readonly Singer[];
  /** Ids of those who may lead; who has no known range may lead too, and nothing is weighed for them. */
  readonly leads: readonly { readonly id: string; readonly name: string }[];
  readonly congregation: Singer | null;
  /** The player at the keys whose hands are weighed: the one with the fewest keys at hand. */
  readonly player: Pick<Player, 'name' | 'reach'> | null;
}

export interface OrderOptions {
  readonly order: 'kept' | 'free';
  /** How many songs one lead takes at most; by id, or for everybody. Missing: all of them. */
  readonly most?: number | Readonly<Record<string, number>>;
  /** How full each place of a song is wished, 0 quiet to 5 full; missing or null: no wish. */
  readonly shape?: readonly number[] | null;
  /**
   * What a way changes of what people have on their stands already; missing: nobody has anything yet. Its points are added
   * like any other.
   */
  readonly onStands?: (
    song: SongToPlan,
    way: { readonly key: Key; readonly lead: string | null },
  ) => readonly OrderCost[];
  /** Steps of the search; see `SolveOptions`. */
  readonly steps?: number;
}

export const COST_KINDS = [
  'lead',
  'singer',
  'room',
  'hands',
  'usual',
  'join',
  'shape',
  'stand',
] as const;
export type OrderCostKind = (typeof COST_KINDS)[number];

/** One thing that a line of a plan costs. */
export interface OrderCost {
  readonly kind: OrderCostKind;
  /** `Ruth at the edge: two beats on D5`, `one flat more than usual`. */
  readonly words: string;
  /** Points, whole, from 0; see `PRICES`. */
  readonly points: number;
}

/**
 * What things cost, in points. They are ours and say what a leader weighs against what; each is printed beside the words
 * that it stands for, and nothing else decides.
 */
export const PRICES = {
  /** A lead: for each half step that the tune lies off the middle of their range, weighted by time. */
  leadOffMiddle: 2,
  /** A lead who is at the edge, and for all of the time outside (a share of it costs that share). */
  leadAtEdge: 30,
  leadOutside: 300,
  /** Where nobody can lead it in comfort, whoever comes nearest. */
  leadBeyond: 100,
  /** Every other singer, for all of the time outside; the congregation. */
  singerOutside: 100,
  roomOutside: 200,
  /** Hands: for a key twice as hard as the easiest of the song; never more than `handsMost`. */
  handsTwice: 30,
  handsMost: 60,
  /** Another key than the usual one, and for each half step of the nearer way. */
  unusual: 4,
  unusualStep: 1,
  /** From song to song with nothing between, by how many triads the keys share; the same key costs nothing. */
  joinRelative: 2,
  joinNear: 4,
  joinSome: 8,
  joinNone: 12,
  /** A reading or prayer between eases it: a share of the price. */
  joinApart: 0.25,
  /** For each step of fullness off the shape that was drawn. */
  shape: 8,
} as const;

/** A song in a plan. */
export interface PlanLine {
  readonly item: string;
  readonly key: Key;
  readonly lead: string | null;
  /** What it costs, the dearest first; what costs nothing is left out. `join` is that from the song before. */
  readonly costs: readonly OrderCost[];
  /** What is otherwise than it stands now. */
  readonly changed: {
    readonly key: boolean;
    readonly lead: boolean;
    readonly place: boolean;
  };
}

/** A whole service: every line in its order, songs as they are done. */
export interface ServicePlan {
  /** Ids of all lines of the order, those that are no songs at their old places. */
  readonly order: readonly string[];
  /** The songs, in that order. */
  readonly lines: readonly PlanLine[];
  /** Points. */
  readonly total: number;
}

export interface BestOrder {
  /** The best first; the next ones for comparison. Empty: nothing fits, and `problems` says why. */
  readonly plans: readonly ServicePlan[];
  readonly proof: {
    /** No plan is better. */
    readonly optimal: boolean;
    /** Points that a better plan could come to at the least. */
    readonly bound: number;
    /** `Proved: no other choice costs less.` */
    readonly words: string;
  };
  /** What a leader should know: songs that nobody can lead in comfort, caps that cannot hold. */
  readonly problems: readonly string[];
}
