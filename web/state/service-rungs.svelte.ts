import {
  Reduction,
  Rungs,
  RungWords,
  SingersHelp,
  Transpose,
  type HelpForSingers,
  type Ladder,
  type OwnRungs,
  type RungSteps,
} from '#music';
import type { Member } from '#server/contract/members.ts';
import { withHelp, withoutHelp, withOwnStep, withRungsOf, withSectionStep } from './own-rungs.ts';
import type { SongLine } from './service-line.svelte.ts';
import type { ServicePage } from './service.svelte.ts';

/** What a ladder is called. */
export const LADDERS: readonly (readonly [Ladder, string])[] = [
  ['right', 'right hand'],
  ['left', 'left hand'],
  ['pedal', 'pedal'],
  ['texture', 'texture'],
];

const nameOf = (ladder: Ladder): string => LADDERS.find(([each]) => each === ladder)?.[1] ?? '';

/** Somebody at the keys this week, and what they play in the song in hand. */
export interface KeysPlayer {
  readonly member: Member;
  /** What their levels say. */
  readonly usual: RungSteps;
  /** What they play all through. */
  readonly now: RungSteps;
  readonly own: OwnRungs;
  /** Sections that are played otherwise, as the song has them. */
  readonly sections: readonly SectionOtherwise[];
}

export interface SectionOtherwise {
  readonly id: string;
  readonly name: string;
  readonly own: Partial<RungSteps>;
  readonly now: RungSteps;
}

/** What the keyboard players of a service play in the song in hand. */
export class ServiceRungs {
  readonly #page: ServicePage;
  readonly #line: SongLine;

  constructor(page: ServicePage, line: SongLine) {
    this.#page = page;
    this.#line = line;
  }

  readonly players: readonly KeysPlayer[] = $derived.by(() => {
    const { item, score } = this.#line;
    if (!item || !score || score.untimed) return [];
    return this.#page.members
      .filter(({ roles }) => roles.includes('keys'))
      .map((member): KeysPlayer => {
        const own = item.rungs[member.id] ?? {};
        const usual = Rungs.rungsFor(member.level, member.levels);
        const now = Rungs.rungsIn(usual, { ...own, sections: {} }, '');
        const sections = score.sections.flatMap(({ id, name }): SectionOtherwise[] => {
          const here = own.sections?.[id];
          return here ? [{ id, name, own: here, now: Rungs.rungsIn(usual, own, id) }] : [];
        });
        return { member, usual, now, own, sections };
      });
  });
  /** What the keyboard can do where this week's voices are low or unsure. */
  readonly help: readonly HelpForSingers[] = $derived.by(() => {
    const { score, key, density, fit } = this.#line;
    if (!score || !key || score.untimed) return [];
    const sung = Reduction.withChords(Transpose.score(score, key), { density });
    return SingersHelp.propose(sung, fit.singers);
  });
  /** Sections of the song by name. */
  readonly sections: readonly { readonly id: string; readonly name: string }[] = $derived.by(
    () => this.#line.score?.sections.map(({ id, name }) => ({ id, name })) ?? [],
  );

  /** @param step null: as their levels say */
  set({ member, usual, own, now }: KeysPlayer, ladder: Ladder, step: number | null): void {
    const to = step ?? usual[ladder];
    if (to === now[ladder]) return;
    const words = `${member.name}, ${nameOf(ladder)}: ${RungWords.sayStep(ladder, to)}.`;
    this.#put(member, withOwnStep(own, usual, ladder, step), words);
  }

  /** @param step null: as all through */
  setIn(
    { member, own, now }: KeysPlayer,
    { id, name }: { readonly id: string; readonly name: string },
    ladder: Ladder,
    step: number | null,
  ): void {
    const said = step === null ? 'as all through' : RungWords.sayStep(ladder, step);
    const words = `${member.name}, ${nameOf(ladder)} in ${name}: ${said}.`;
    this.#put(member, withSectionStep(own, now, id, ladder, step), words);
  }

  /** Whether they do so already: a step that is set, or one that is higher. */
  helps({ usual, own }: KeysPlayer, { section, steps }: HelpForSingers): boolean {
    const now = Rungs.rungsIn(usual, own, section);
    return (steps.pulse !== true || now.pulse === true) && now.right >= (steps.right ?? 1);
  }

  /** @param on whether they are to help; who plays so all through cannot leave it here */
  setHelp(player: KeysPlayer, help: HelpForSingers, on: boolean): void {
    const { member, own } = player;
    const { name, section, steps } = help;
    const what = help.help === 'pulse' ? 'pulses the note of the tune' : 'plays the tune on top';
    const words = on ? `${member.name} ${what} in ${name}.` : `${member.name} plays ${name} as before.`; // prettier-ignore
    const set = on ? withHelp : withoutHelp;
    this.#put(member, set(own, section, steps), words);
  }

  asLevelsSay({ member }: KeysPlayer): void {
    this.#put(member, {}, `${member.name} plays as their levels say.`);
  }

  #put(member: Member, own: OwnRungs, words: string): void {
    const { item } = this.#line;
    if (!item) return;
    this.#page.changeItem(item.id, { rungs: withRungsOf(item.rungs, member.id, own) }, words);
  }
}
