const DURATION = 120;
/** CSS px that a page comes from aside. */
const ASIDE = 28;

/** A page that was just opened begins at its top, and comes in from the side it was turned from; without motion where that is wished. */
export function turnLeaf(leaf: HTMLElement, direction: number): void {
  leaf.parentElement?.scrollTo(0, 0);
  if (matchMedia('(prefers-reduced-motion: reduce)').matches) return;
  const from = { opacity: 0.2, transform: `translateX(${direction * ASIDE}px)` };
  leaf.animate([from, { opacity: 1, transform: 'none' }], {
    duration: DURATION,
    easing: 'ease-out',
  });
}
