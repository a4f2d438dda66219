/** How the ways through a song are written: the sign of a note, the words above it, what `<sound>` says of it. */
export interface Jump {
  readonly sign: string;
  readonly words: string;
  readonly sound: Readonly<Record<string, string>>;
}

/** Signs by their names in ABC 2.1 (section 4.14) and its usual extensions. */
export const JUMPS: readonly Jump[] = [
  { sign: 'D.C.alfine', words: 'D.C. al Fine', sound: { dacapo: 'yes' } },
  { sign: 'D.C.alcoda', words: 'D.C. al Coda', sound: { dacapo: 'yes' } },
  { sign: 'D.S.alfine', words: 'D.S. al Fine', sound: { dalsegno: 'segno' } },
  { sign: 'D.S.alcoda', words: 'D.S. al Coda', sound: { dalsegno: 'segno' } },
  { sign: 'D.C.', words: 'D.C.', sound: { dacapo: 'yes' } },
  { sign: 'D.S.', words: 'D.S.', sound: { dalsegno: 'segno' } },
  { sign: 'fine', words: 'Fine', sound: { fine: 'yes' } },
  { sign: 'dacoda', words: 'To Coda', sound: { tocoda: 'coda' } },
  { sign: 'segno', words: '', sound: { segno: 'segno' } },
  { sign: 'coda', words: '', sound: { coda: 'coda' } },
];

export function jumpOfSign(sign: string): Jump | undefined {
  return JUMPS.find((jump) => jump.sign === sign);
}

const PATTERNS: readonly (readonly [RegExp, string])[] = [
  [/^d\.? ?c\.? al fine|^da capo al fine/i, 'D.C.alfine'],
  [/^d\.? ?c\.? al coda|^da capo al coda/i, 'D.C.alcoda'],
  [/^d\.? ?s\.? al fine|^dal segno al fine/i, 'D.S.alfine'],
  [/^d\.? ?s\.? al coda|^dal segno al coda/i, 'D.S.alcoda'],
  [/^(d\. ?c\.?|dc|da capo)$/i, 'D.C.'],
  [/^(d\. ?s\.?|ds|dal segno)$/i, 'D.S.'],
  [/^fine\.?$/i, 'fine'],
  [/^(to|al) coda$/i, 'dacoda'],
];

/** The sign that words stand for: `D. C. al Fine`; null: they are other words. */
export function jumpInWords(words: string): string | null {
  const plain = words.replace(/\s+/g, ' ').trim();
  return PATTERNS.find(([pattern]) => pattern.test(plain))?.[1] ?? null;
}

/** The sign that the attributes of `<sound>` stand for. */
export function jumpInSound(sound: Readonly<Record<string, string>>): string | null {
  if (sound['dacapo'] === 'yes') return 'D.C.';
  if (sound['dalsegno']) return 'D.S.';
  if (sound['fine']) return 'fine';
  return sound['tocoda'] ? 'dacoda' : null;
}
