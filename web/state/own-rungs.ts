import type { Ladder, OwnRungs, RungSteps } from '#music';

type Steps = Partial<RungSteps>;

/** With a step of one ladder; null, or what is meant by usual anyway: without one. */
function withStep(steps: Steps, usual: RungSteps, ladder: Ladder, step: number | null): Steps {
  const { [ladder]: _, ...others } = steps;
  return step === null || step === usual[ladder] ? others : { ...others, [ladder]: step };
}

/**
 * What somebody plays in one song, with a step of one ladder.
 * @param usual what their levels say; only what differs is written down
 * @param step null: as their levels say
 */
export function withOwnStep(
  own: OwnRungs,
  usual: RungSteps,
  ladder: Ladder,
  step: number | null,
): OwnRungs {
  const { sections, ...whole } = own;
  return { ...withStep(whole, usual, ladder, step), ...(sections && { sections }) };
}

/** The same for one section of the song; null: as all through. */
export function withSectionStep(
  own: OwnRungs,
  through: RungSteps,
  section: string,
  ladder: Ladder,
  step: number | null,
): OwnRungs {
  return withSection(own, section, withStep(own.sections?.[section] ?? {}, through, ladder, step));
}

/** The same with all that a help for the singers sets in its section. */
export function withHelp(own: OwnRungs, section: string, steps: Steps): OwnRungs {
  return withSection(own, section, { ...own.sections?.[section], ...steps });
}

/** The same without what that help sets. */
export function withoutHelp(own: OwnRungs, section: string, steps: Steps): OwnRungs {
  const here = Object.entries(own.sections?.[section] ?? {});
  return withSection(own, section, Object.fromEntries(here.filter(([name]) => !(name in steps))));
}

function withSection(own: OwnRungs, section: string, steps: Steps): OwnRungs {
  const { sections = {}, ...whole } = own;
  const { [section]: _, ...others } = sections;
  const now = Object.keys(steps).length > 0 ? { ...others, [section]: steps } : others;
  return Object.keys(now).length > 0 ? { ...whole, sections: now } : whole;
}

/** By member, with what one of them plays; without them where that is as their levels say. */
export function withRungsOf(
  all: Readonly<Record<string, OwnRungs>>,
  member: string,
  own: OwnRungs,
): Record<string, OwnRungs> {
  const { [member]: _, ...others } = all;
  return Object.keys(own).length > 0 ? { ...others, [member]: own } : others;
}
