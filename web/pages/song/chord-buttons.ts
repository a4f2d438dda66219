import { untrack } from 'svelte';

/** A drawn chord symbol that was chosen. */
export interface ChosenChord {
  /** Index of its bar in the score. */
  readonly bar: number;
  /** Which chord of the bar, from 0. */
  readonly index: number;
  readonly element: SVGGElement;
}

export interface ChordButtonOptions {
  /** What a chord is called aloud, and whether it is a guess; null: nothing that can be changed. */
  readonly describe: (bar: number, index: number) => { label: string; guess: boolean } | null;
  readonly onchoose: (chord: ChosenChord) => void;
}

const SVG = 'http://www.w3.org/2000/svg';
/** CSS px; a finger needs that much (WCAG 2.2 asks for 24, the house for 44). */
const TARGET = 44;

/** A clear patch around a symbol that is large enough for a finger. */
function addTarget(element: SVGGElement): void {
  const box = element.getBBox();
  const scale = element.getScreenCTM()?.a ?? 1;
  const width = Math.max(box.width, TARGET / scale);
  const height = Math.max(box.height, TARGET / scale);
  const target = document.createElementNS(SVG, 'rect');
  target.setAttribute('class', 'target');
  target.setAttribute('x', String(box.x + box.width / 2 - width / 2));
  target.setAttribute('y', String(box.y + box.height / 2 - height / 2));
  target.setAttribute('width', String(width));
  target.setAttribute('height', String(height));
  element.append(target);
}

/**
 * Makes the chord symbols of engraved music into buttons. For `{@attach}`, once for each drawing: what is named is what
 * the drawing shows when it comes.
 */
export function chordButtons(options: ChordButtonOptions) {
  return (root: HTMLElement): (() => void) => untrack(() => attach(root, options));
}

function attach(root: HTMLElement, options: ChordButtonOptions): () => void {
  const chords = new Map<Element, ChosenChord>();
  for (const measure of root.querySelectorAll<SVGGElement>('.measure[data-bar]')) {
    const bar = Number(measure.dataset['bar']);
    measure.querySelectorAll<SVGGElement>('.harm').forEach((element, index) => {
      const said = options.describe(bar, index);
      if (!said) return;
      chords.set(element, { bar, index, element });
      element.setAttribute('role', 'button');
      element.setAttribute('tabindex', '0');
      element.setAttribute('aria-label', said.label);
      element.classList.toggle('guess', said.guess);
      addTarget(element);
    });
  }
  const choose = (event: Event): void => {
    const element = (event.target as Element).closest('.harm');
    const chord = element && chords.get(element);
    if (!chord) return;
    event.preventDefault();
    options.onchoose(chord);
  };
  const press = (event: KeyboardEvent): void => {
    if (event.key === 'Enter' || event.key === ' ') choose(event);
  };
  root.addEventListener('click', choose);
  root.addEventListener('keydown', press);
  return () => {
    root.removeEventListener('click', choose);
    root.removeEventListener('keydown', press);
  };
}
