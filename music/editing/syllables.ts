import type { Syllable } from '../score/score.ts';

/** One step along the tune: a syllable, or a note that the one before is held over. */
export type Step = Syllable | 'hold';

/**
 * Words as they are typed under a tune. A hyphen parts syllables, wherever spaces stand beside it: `A-ma-zing`,
 * `A- ma- zing`. `_` holds over a further note, also inside a word: `Glo-_-ri-a`. A stop or dash alone belongs to the
 * syllable before it. Typographic hyphens (U+2010, U+2011) and dashes are letters: they part nothing.
 */
export function stepsOf(text: string): Step[] {
  const steps: Step[] = [];
  let letters = '';
  const lastSyllable = (): number => steps.findLastIndex((step) => step !== 'hold');
  const push = (): void => {
    if (letters === '') return;
    const before = steps[lastSyllable()];
    if (/^\p{P}+$/u.test(letters) && before && before !== 'hold' && !before.hyphen) {
      steps[lastSyllable()] = { text: `${before.text} ${letters}` };
    } else steps.push({ text: letters });
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
      if (steps.length > 0) steps.push('hold');
    } else if (/\s/u.test(sign)) push();
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
      const shown = step.text.replaceAll('-', '\u2010').replaceAll('_', '\u2017');
      text += (joined ? '' : ' ') + shown + (step.hyphen ? '-' : '');
      joined = step.hyphen === true;
    }
  }
  return text;
}
