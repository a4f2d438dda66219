import type { Syllable } from '../score/score.ts';

/** Signs that part, and their look-alikes that do not. */
const LOOK_ALIKES = [
  ['-', '\u2010'],
  ['_', '\u2017'],
  [' ', '\u00A0'],
] as const;

/** @param from 0: each sign becomes its look-alike, 1: the other way round */
function swapped(text: string, from: 0 | 1): string {
  return LOOK_ALIKES.reduce((all, both) => all.replaceAll(both[from], both[1 - from] ?? ''), text);
}

/** One step along the tune: a syllable, or a note that the one before is held over. */
export type Step = Syllable | 'hold';

/**
 * Words as they are typed under a tune. A hyphen parts syllables, wherever spaces stand beside it: `A-ma-zing`,
 * `A- ma- zing`. `_` holds over a further note, also inside a word: `Glo-_-ri-a`. A stop or dash alone belongs to the
 * syllable before it. What shall not part is typed as its look-alike: a no-break space, a hyphen U+2010, a low line U+2017.
 */
export function stepsOf(text: string): Step[] {
  const steps: Step[] = [];
  let letters = '';
  const lastSyllable = (): number => steps.findLastIndex((step) => step !== 'hold');
  const push = (): void => {
    if (letters === '') return;
    const before = steps[lastSyllable()];
    if (/^\p{P}+$/u.test(letters) && before && before !== 'hold' && !before.hyphen) {
      steps[lastSyllable()] = { text: `${before.text} ${swapped(letters, 1)}` };
    } else steps.push({ text: swapped(letters, 1) });
    letters = '';
  };
  for (const sign of text) {
    if (sign === '-') {
      push();
      const index = lastSyllable();
      const before = steps[index];
      if (before && before !== 'hold') steps[index] = { text: before.text, hyphen: true };
    } else if (sign === '_') {
      push();
      steps.push('hold');
    } else if (/[^\S\u00A0]/u.test(sign)) push();
    else letters += sign;
  }
  push();
  const end = steps[lastSyllable()];
  // Nothing goes on after the last syllable, whatever stands behind it.
  if (end && end !== 'hold' && end.hyphen) steps[lastSyllable()] = { text: end.text };
  return steps;
}

/** Syllables and holds as text that `stepsOf` reads again: `A-ma-zing grace _`. */
export function textOf(steps: readonly Step[]): string {
  let text = '';
  let joined = true;
  for (const step of steps) {
    if (step === 'hold') text += '_';
    else {
      text += (joined ? '' : ' ') + swapped(step.text, 0) + (step.hyphen ? '-' : '');
      joined = step.hyphen === true;
    }
  }
  return text;
}
