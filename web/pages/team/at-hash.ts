/** Brings the section that the address names into sight: it was not there yet when the browser looked for it. */
export function atHash(section: HTMLElement): void {
  if (location.hash === `#${section.id}`) section.scrollIntoView();
}
