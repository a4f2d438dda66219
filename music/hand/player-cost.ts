import type { PlayedKey } from './played-key.ts';

/** Who plays something that one key makes harder than another. */
export const WEIGHED_ROLES = ['keys', 'guitar', 'bass'] as const;
export type WeighedRole = (typeof WEIGHED_ROLES)[number];

/** What a figure of a player counts: each role its own, never added to another's. */
export type EaseUnit = 'hard moves' | 'barre changes' | 'per cent off open strings';

export interface PlayerEase {
  /** 0 and up; less is easier. Whole, so that keys can be equal. */
  readonly value: number;
  readonly unit: EaseUnit;
}

/** What a key asks of one player of this week. */
export interface PlayerCost {
  /** Id of the person; with the role it is one dimension of a key. */
  readonly player: string;
  readonly name: string;
  readonly role: WeighedRole;
  readonly ease: PlayerEase;
  /** What decides between keys that are equal in `ease`, place by place, less is better; it makes no key worse. */
  readonly finer: readonly number[];
  /** The key on the page where another one sounds; null: what sounds. */
  readonly plays: PlayedKey | null;
  /** `two hard moves`; `capo 2, shapes of G: no barre chord`: to set beside another key. */
  readonly phrase: string;
  /** All of it as a sentence, with bars where there are any. */
  readonly sentence: string;
  /** What the figure is made of, the dearest first. */
  readonly items: readonly { readonly words: string; readonly cost: number }[];
  /** The same by a keyboard's transpose button, where it would be easier and was not asked for; else null. */
  readonly instead: PlayerCost | null;
}

/** Whether one cost is less than another: by its figure, then by what is finer. Below zero: the first. */
export function compareCosts(a: PlayerCost, b: PlayerCost): number {
  const finer = a.finer.map((value, i) => value - (b.finer[i] ?? 0));
  return [a.ease.value - b.ease.value, ...finer].find((difference) => difference !== 0) ?? 0;
}

const DOING: Readonly<Record<WeighedRole, string>> = {
  keys: 'at the keys',
  guitar: 'on the guitar',
  bass: 'on the bass',
};

/** `Ruth at the keys`. */
export const sayPlayer = ({ name, role }: Pick<PlayerCost, 'name' | 'role'>): string =>
  `${name} ${DOING[role]}`;
