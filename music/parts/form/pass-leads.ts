import { passesOf, type NamedPass } from '../../score/form.ts';
import type { Pass, Score, Section } from '../../score/score.ts';
import type { ArrangedPass } from '../arrangement.ts';
import { INTRODUCTION } from './introduction.ts';
import { namePasses } from './textures.ts';

/** Who leads a pass: the one it names, else who leads the song; null: nobody is named. */
export function leadOf(pass: Pass, usual: string | null): string | null {
  return (pass as ArrangedPass).lead ?? usual;
}

/** The passes that one person leads, or nobody by name. */
interface Led {
  readonly lead: string | null;
  readonly passes: readonly NamedPass[];
}

/** By who leads, in the order they first come; the introduction is not sung. */
function ledIn(score: Score, usual: string | null): Led[] {
  const groups = new Map<string | null, NamedPass[]>();
  for (const each of passesOf(score)) {
    if (each.section.id === INTRODUCTION) continue;
    const lead = leadOf(each.pass, usual);
    groups.set(lead, [...(groups.get(lead) ?? []), each]);
  }
  return [...groups].map(([lead, passes]) => ({ lead, passes }));
}

/** Who leads every pass; `differs`: not everywhere the same. */
export function leadOfAll(
  score: Score,
  usual: string | null,
): { readonly differs: boolean; readonly lead: string | null } {
  const led = ledIn(score, usual);
  const [first] = led;
  if (!first) return { differs: false, lead: usual };
  return led.length > 1 ? { differs: true, lead: null } : { differs: false, lead: first.lead };
}

/** `verses 1 and 3`, `refrain, second time`; all that goes through a section without verses of its own: `refrain`. */
function nameLed(all: readonly NamedPass[], own: readonly NamedPass[], section: Section): string {
  const whole = own.length === all.filter((each) => each.section.id === section.id).length;
  const numbered = section.kind === 'verse' && own.every(({ verse }) => verse !== null);
  const name = whole && !numbered ? section.name : namePasses(own);
  return name.toLocaleLowerCase();
}

function nameLedIn(all: readonly NamedPass[], passes: readonly NamedPass[]): string {
  const sections = [...new Set(passes.map(({ section }) => section))];
  return sections
    .map((section) =>
      nameLed(
        all,
        passes.filter((each) => each.section === section),
        section,
      ),
    )
    .join(', ');
}

/**
 * Who leads what, where it is not one person all through: `verses 1 and 3, refrain: Ada leads; verse 2: Elias leads`.
 * Passes for which nobody is named are left out. Where all name somebody else than who leads the song: `Elias leads
 * every pass`. Else empty.
 * @param song with its arranged passes as its form
 * @param usual who leads the song, by name
 */
export function sayPassLeads(song: Score, usual: string | null): string {
  const { differs, lead } = leadOfAll(song, usual);
  if (!differs) return lead !== null && lead !== usual ? `${lead} leads every pass` : '';
  const all = passesOf(song);
  return ledIn(song, usual)
    .flatMap(({ lead: who, passes }) => (who ? [`${nameLedIn(all, passes)}: ${who} leads`] : []))
    .join('; ');
}

/** The same for one section, a line for each who leads there: `verse 1: you lead`, `verses 2 and 3: Elias leads`. */
export function leadLines(
  song: Score,
  section: Section,
  usual: string | null,
  say: (lead: string) => string,
): string[] {
  const all = passesOf(song);
  return ledIn(song, usual).flatMap(({ lead, passes }) => {
    const own = passes.filter((each) => each.section.id === section.id);
    return lead && own.length > 0 ? [`${nameLed(all, own, section)}: ${say(lead)}`] : [];
  });
}
