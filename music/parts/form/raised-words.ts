import { noteOf } from '../../pitch/pitch.ts';
import { ENGLISH, type Says } from '../../pitch/says.ts';
import { passesOf, type NamedPass } from '../../score/form.ts';
import type { Score, Section } from '../../score/score.ts';
import { namedByPasses, namePasses } from '../../score/copy-names.ts';
import { keyAt, melodyOf } from '../../score/time.ts';
import { sayUp, upOf } from './keys-of-form.ts';
import { isLink } from '../link/link.ts';
import type { PartDirection } from '../part.ts';

/** How a pass steps into its key from the pass before it; empty: it stays where that was. */
export function sayStep(
  score: Score,
  before: NamedPass | undefined,
  pass: NamedPass,
  says: Says = ENGLISH,
): string {
  // What leads on to the next song says by itself which key it goes into.
  const step = before && !isLink(pass.section) ? upOf(pass.pass) - upOf(before.pass) : 0;
  if (step === 0) return '';
  return `straight ${sayUp(step)}, into ${says.key(keyAt(score, pass.section.from).key)}`;
}

/**
 * What is said beside a section of the passes through it that begin in another key than the pass before:
 * `straight up a whole step, into G major`; where only some of them do: `verse 3: straight up a whole step, into G major`.
 * @param score as it is written, with copies of what is sung in another key (see `raised`)
 * @param sings for singers, who hear of their first note there
 */
export function sayStepsInto(
  score: Score,
  section: Section,
  says: Says = ENGLISH,
  sings = false,
): string[] {
  const passes = passesOf(score);
  const own = passes.filter((each) => each.section.id === section.id);
  const steps = new Map<string, NamedPass[]>();
  passes.forEach((each, i) => {
    if (each.section.id !== section.id) return;
    const words = sayStep(score, passes[i - 1], each, says);
    if (words !== '') steps.set(words, [...(steps.get(words) ?? []), each]);
  });
  const first = melodyOf(score).notes.find(
    ({ at, pitches }) => at >= section.from && pitches.length > 0,
  );
  const pitch = sings ? first?.pitches.at(-1) : undefined;
  const begin = pitch ? `; begin on ${says.note(noteOf(pitch))}` : '';
  return [...steps].map(([words, led]) => {
    const who = led.length === own.length ? '' : `${namePasses(led).toLocaleLowerCase()}: `;
    return who + words + begin;
  });
}

/**
 * `at the end back to verses 1 and 3`, of a section behind which the next one is drawn in another key, with its signature
 * announced, though nothing goes on there: every pass goes back. Else empty.
 */
function sayBack(score: Score, section: Section): string {
  const next = score.sections[score.sections.indexOf(section) + 1];
  if (!next) return '';
  const [here, there] = [section.to - 1, next.from].map((at) => keyAt(score, at));
  if (!here || !there || here.signature === there.signature) return '';
  const passes = passesOf(score);
  const after = new Set(
    passes.flatMap((each, i) =>
      each.section.id === section.id ? (passes[i + 1]?.section ?? []) : [],
    ),
  );
  const [back] = after;
  if (after.size !== 1 || !back || back.from >= section.from) return '';
  return `at the end back to ${namedByPasses(score, back).toLocaleLowerCase()}`;
}

/** The rubric of a part, with what is said of changes of key before all else. */
export function withSteps(
  score: Score,
  directions: readonly PartDirection[],
  says: Says = ENGLISH,
  sings = false,
): PartDirection[] {
  return directions.map(({ section: id, words }) => {
    const section = score.sections.find((each) => each.id === id);
    return {
      section: id,
      words: [
        ...(section ? sayStepsInto(score, section, says, sings) : []),
        ...words,
        ...(section ? [sayBack(score, section)] : []).filter((each) => each !== ''),
      ],
    };
  });
}
