const MUSIC = 'written-music';

/** Back to the music, where letters are notes. */
export function toMusic(): void {
  document.getElementById(MUSIC)?.focus({ preventScroll: true });
}

/** The music is what the page is for: keys go there first. */
export function focusMusic(region: HTMLElement): void {
  region.focus({ preventScroll: true });
}

/** Keeps the keys with the music where a button is tapped. */
export function stay(event: PointerEvent): void {
  event.preventDefault();
}
