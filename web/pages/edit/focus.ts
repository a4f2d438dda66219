const MUSIC = 'written-music';

/** Back to the music, where letters are notes. */
export function toMusic(): void {
  document.getElementById(MUSIC)?.focus({ preventScroll: true });
}

/** The music is what the page is for: keys go there first. */
export function focusMusic(region: HTMLElement): void {
  region.focus({ preventScroll: true });
}

/** Scrolls the music until the cursor stands in sight, with the words under it. */
export function keepInSight(
  region: HTMLElement,
  caret: { readonly top: number; readonly bottom: number },
): void {
  const { scrollTop, clientHeight } = region;
  if (caret.top < scrollTop + 50 || caret.bottom + 60 > scrollTop + clientHeight)
    region.scrollTop = Math.max(0, caret.top - clientHeight / 3);
}

/** Room under a field that is open over the music, CSS px. */
const UNDER_FIELD = 8;

/** Scrolls the music until a field over it stands in sight whole, or, where it is higher than the music, from its top. */
export function fieldInSight(region: HTMLElement): void {
  const field = region.querySelector('form')?.getBoundingClientRect();
  if (!field) return;
  const { top, bottom } = region.getBoundingClientRect();
  const below = field.bottom + UNDER_FIELD - bottom;
  if (below > 0) region.scrollTop += Math.min(below, field.top - top);
}

/** Keeps the keys with the music where a button is tapped. */
export function stay(event: PointerEvent): void {
  event.preventDefault();
}
