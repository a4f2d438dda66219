/** Decorations of ABC 2.1, section 4.14, and the two marks by which the Open Hymnal Project shows the introduction. */
const KNOWN_TEXT = `trill trill( trill) lowermordent uppermordent mordent pralltriller roll turn turnx invertedturn
invertedturnx arpeggio > accent emphasis fermata invertedfermata tenuto 0 1 2 3 4 5 + plus snap slide wedge upbow
downbow open thumb breath pppp ppp pp p mp mf f ff fff ffff sfz crescendo( <( crescendo) <) diminuendo( >(
diminuendo) >) segno coda D.S. D.C. dacoda dacapo fine shortphrase mediumphrase longphrase staccato sintro eintro
D.C.alcoda D.C.alfine D.S.alcoda D.S.alfine editorial courtesy dotted-tie dotted-slur`;

export const KNOWN: ReadonlySet<string> = new Set(KNOWN_TEXT.split(/\s+/));

/** One-letter decorations that need no definition (ABC 2.1, 4.14 and 4.16). */
export const SHORT: Readonly<Record<string, string>> = {
  '.': 'staccato',
  '~': 'roll',
  H: 'fermata',
  L: 'accent',
  M: 'lowermordent',
  O: 'coda',
  P: 'uppermordent',
  S: 'segno',
  T: 'trill',
  u: 'upbow',
  v: 'downbow',
};

/** Signs that send the player to another place; they are kept, the order of playing is not changed by them. */
export const NAVIGATION: ReadonlySet<string> = new Set([
  'segno',
  'coda',
  'D.S.',
  'D.C.',
  'dacoda',
  'dacapo',
  'fine',
  'D.C.alcoda',
  'D.C.alfine',
  'D.S.alcoda',
  'D.S.alfine',
]);

/** The longest known decoration at the beginning of a text, for a `!` that is not closed. */
export function knownPrefix(text: string): string | null {
  let best: string | null = null;
  for (const name of KNOWN) {
    if (name.length > 1 && name.length > (best?.length ?? 0) && text.startsWith(name)) best = name;
  }
  return best;
}

/** `U: T = !trill!`: a letter (or `~` or `.`) that stands for a decoration. Null: it is none. */
export function readSymbol(value: string): [sign: string, name: string] | null {
  const match = /^([H-Wh-w~.])\s*=\s*[!+]?([^!+\s]+)[!+]?$/.exec(value);
  return match ? [match[1] ?? '', match[2] ?? ''] : null;
}
