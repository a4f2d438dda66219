/**
 * Arrow keys of the book: from the search field down into the list, from line to line, and back up; Enter in the field
 * opens the first song, on a line the line's own link does.
 */
export function keysOfList(event: KeyboardEvent): void {
  const at = event.target as HTMLElement;
  const root = event.currentTarget as HTMLElement;
  const isField = at instanceof HTMLInputElement && at.type === 'search';
  const links = [...root.querySelectorAll<HTMLElement>('ol a[href]')];
  const index = links.indexOf(at);
  if (!isField && index < 0) return;
  const step = { ArrowDown: 1, ArrowUp: -1 }[event.key];
  if (step === undefined) {
    if (isField && event.key === 'Enter') links[0]?.click();
    return;
  }
  if (isField && step < 0) return;
  const next = index + step;
  const field = root.querySelector<HTMLElement>('input[type="search"]');
  const to = next < 0 ? field : links[Math.min(next, links.length - 1)];
  if (!to) return;
  event.preventDefault();
  to.focus();
}
