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

type NamedLadder = readonly [Ladder, string];

/** The ladders of an instrument, and what each is called. */
const LADDERS: Readonly<Record<'keys' | 'bass', readonly NamedLadder[]>> = {
  keys: [
    ['right', 'right hand'],
    ['left', 'left hand'],
    ['pedal', 'pedal'],
    ['texture', 'texture'],
  ],
  bass: [['bass', 'bass']],
};

const nameOf = (ladder: Ladder): string =>
  [...LADDERS.keys, ...LADDERS.bass].find(([each]) => each === ladder)?.[1] ?? '';

/** Somebody with ladders at one instrument this week, and what they play in the song in hand. */
export interface LadderPlayer {
  readonly member: Member;
  readonly role: 'keys' | 'bass';
  readonly ladders: readonly NamedLadder[];
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

/** What those with ladders play in the song in hand. */
export class ServiceRungs {
  readonly #page: ServicePage;
  readonly #line: SongLine;

  constructor(page: ServicePage, line: SongLine) {
    this.#page = page;
    this.#line = line;
  }

  /** Written, or found in its voices: without any, nobody has a part to climb in. */
  readonly #hasChords: boolean = $derived.by(() => {
    const { score, density } = this.#line;
    if (!score || score.untimed) return false;
    return Reduction.withChords(score, { density }).chords.some(({ chord }) => chord !== null);
  });
  /** At the keys. */
  readonly players: readonly LadderPlayer[] = $derived.by(() => this.#playersOf('keys'));
  readonly bassPlayers: readonly LadderPlayer[] = $derived.by(() => this.#playersOf('bass'));
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

  #playersOf(role: LadderPlayer['role']): LadderPlayer[] {
    const { item, score } = this.#line;
    if (!item || !score || !this.#hasChords) return [];
    const ladders = LADDERS[role];
    const concerns = (steps: Partial<RungSteps>) =>
      ladders.some(([ladder]) => ladder in steps) || (role === 'keys' && 'pulse' in steps);
    return this.#page.members
      .filter(({ roles }) => roles.includes(role))
      .map((member): LadderPlayer => {
        const { level, levels } = member;
        const own = item.rungs[member.id] ?? {};
        const usual = {
          ...Rungs.rungsFor(level, levels),
          bass: Rungs.bassRungFor(level, levels),
        };
        const now = Rungs.rungsIn(usual, { ...own, sections: {} }, '');
        const sections = score.sections.flatMap(({ id, name }): SectionOtherwise[] => {
          const here = own.sections?.[id];
          const isOtherwise = here !== undefined && concerns(here);
          return isOtherwise ? [{ id, name, own: here, now: Rungs.rungsIn(usual, own, id) }] : [];
        });
        return { member, role, ladders, usual, now, own, sections };
      });
  }

  /** @param step null: as their levels say */
  set({ member, usual, own, now }: LadderPlayer, ladder: Ladder, step: number | null): void {
    const to = step ?? usual[ladder];
    if (to === undefined || to === now[ladder]) return;
    const words = `${member.name}, ${nameOf(ladder)}: ${RungWords.sayStep(ladder, to)}.`;
    this.#put(member, withOwnStep(own, usual, ladder, step), words);
  }

  /** @param step null: as all through */
  setIn(
    { member, own, now }: LadderPlayer,
    { id, name }: { readonly id: string; readonly name: string },
    ladder: Ladder,
    step: number | null,
  ): void {
    const said = step === null ? 'as all through' : RungWords.sayStep(ladder, step);
    const words = `${member.name}, ${nameOf(ladder)} in ${name}: ${said}.`;
    this.#put(member, withSectionStep(own, now, id, ladder, step), words);
  }

  /** Whether they do so already: a step that is set, or one that is higher. */
  helps({ usual, own }: LadderPlayer, { section, steps }: HelpForSingers): boolean {
    const now = Rungs.rungsIn(usual, own, section);
    return (steps.pulse !== true || now.pulse === true) && now.right >= (steps.right ?? 1);
  }

  /** @param on whether they are to help; who plays so all through cannot leave it here */
  setHelp(player: LadderPlayer, help: HelpForSingers, on: boolean): void {
    const { member, own } = player;
    const { name, section, steps } = help;
    const what = help.help === 'pulse' ? 'pulses the note of the tune' : 'plays the tune on top';
    const words = on ? `${member.name} ${what} in ${name}.` : `${member.name} plays ${name} as before.`; // prettier-ignore
    const set = on ? withHelp : withoutHelp;
    this.#put(member, set(own, section, steps), words);
  }

  asLevelsSay({ member }: LadderPlayer): void {
    this.#put(member, {}, `${member.name} plays as their levels say.`);
  }

  #put(member: Member, own: OwnRungs, words: string): void {
    const { item } = this.#line;
    if (!item) return;
    this.#page.changeItem(item.id, { rungs: withRungsOf(item.rungs, member.id, own) }, words);
  }
}
