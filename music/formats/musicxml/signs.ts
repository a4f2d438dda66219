/** Signs of a source that MusicXML has an element for; the others are kept by name. */
export const SIGNS: Readonly<Record<string, readonly [group: string, element: string]>> = {
  trill: ['ornaments', 'trill-mark'],
  turn: ['ornaments', 'turn'],
  mordent: ['ornaments', 'mordent'],
  breath: ['articulations', 'breath-mark'],
  staccato: ['articulations', 'staccato'],
  tenuto: ['articulations', 'tenuto'],
  accent: ['articulations', 'accent'],
};

const BY_ELEMENT: ReadonlyMap<string, string> = new Map(
  Object.entries(SIGNS).map(([sign, [, element]]) => [element, sign]),
);

/** The name of a sign by its element, which is its name where there is no other. */
export function signOf(element: string): string {
  return BY_ELEMENT.get(element) ?? element;
}
