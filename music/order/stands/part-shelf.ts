import type { Player, Team } from '../../parts/arrangement.ts';
import type { Part, Role } from '../../parts/part.ts';
import { build } from '../../parts/parts.ts';
import type { Score } from '../../score/score.ts';
import type { StandPage } from './pages.ts';

/** Parts that are kept; one is some tens of kilobytes. */
const KEPT = 400;

/**
 * Whose coming and going changes the notes of a part: at the keys the left hand leaves low notes to a bass and the pulse to
 * drums, a bass plays the pulse where there are no drums, and where nobody leads the harmony voices have the tune.
 */
export const HEARD: Readonly<Record<Role, readonly Role[]>> = {
  keys: ['bass', 'drums'],
  bass: ['drums'],
  guitar: [],
  drums: [],
  leader: [],
  'lead voice': ['lead voice'],
  'harmony voice': ['lead voice'],
};

/** What decides the line of a harmony voice besides its own voice: how the tune is heard, and who has a line before. */
function besideIn({ id }: Player, { leadVoice, harmonies = [] }: Team) {
  const place = harmonies.findIndex((each) => each.id === id);
  return [leadVoice, harmonies.slice(0, Math.max(0, place)).map(({ voice }) => voice)];
}

/** Parts that were written before: writing one takes tens of milliseconds, and many questions want the same ones. */
export class PartShelf {
  readonly #parts = new Map<string, Part | null>();
  /** Songs by what stands in them: they come as copies again and again. */
  readonly #numbers = new Map<string, number>();
  readonly #scores = new WeakMap<Score, number>();
  /** Parts that were written so far. */
  built = 0;

  /** What decides the notes of a page; two pages with one sign have the same notes. */
  signOf(score: Score, { role, player, arrangement, team }: StandPage): string {
    const { id: _id, name: _name, ...hands } = player;
    const heard = HEARD[role].filter((each) => team.roles.includes(each));
    const beside = role === 'harmony voice' ? besideIn(player, team) : null;
    return JSON.stringify([this.#numberOf(score), hands, arrangement, heard, beside]);
  }

  has(score: Score, page: StandPage): boolean {
    return this.#parts.has(this.signOf(score, page));
  }

  /** null: there are no notes for it, as of a song without a rhythm. */
  part(score: Score, page: StandPage): Part | null {
    const sign = this.signOf(score, page);
    const found = this.#parts.get(sign);
    if (found !== undefined) return found;
    this.built += 1;
    const answer = build(score, page.arrangement, page.player, page.team);
    const part = answer.ok ? answer.value : null;
    this.#parts.set(sign, part);
    const [oldest] = this.#parts.keys();
    if (this.#parts.size > KEPT && oldest !== undefined) this.#parts.delete(oldest);
    return part;
  }

  #numberOf(score: Score): number {
    const found = this.#scores.get(score);
    if (found !== undefined) return found;
    const text = JSON.stringify(score);
    const number = this.#numbers.get(text) ?? this.#numbers.size;
    this.#numbers.set(text, number);
    this.#scores.set(score, number);
    return number;
  }
}
