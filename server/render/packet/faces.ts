import { createRequire } from 'node:module';
import { ACCIDENTAL } from '#music';

/** The faces of the page: serif for what is sung and said, italic for what one does, sans for figures and chords. */
export type Face = 'serif' | 'italic' | 'sans' | 'bold';

const SERIF = '@expo-google-fonts/source-serif-4';
const SANS = '@expo-google-fonts/source-sans-3';
const FILES: Readonly<Record<Face, string>> = {
  serif: `${SERIF}/400Regular/SourceSerif4_400Regular.ttf`,
  italic: `${SERIF}/400Regular_Italic/SourceSerif4_400Regular_Italic.ttf`,
  sans: `${SANS}/400Regular/SourceSans3_400Regular.ttf`,
  bold: `${SANS}/600SemiBold/SourceSans3_600SemiBold.ttf`,
};
export const FACES = Object.keys(FILES) as readonly Face[];

const require = createRequire(import.meta.url);

/** Where the file of a face lies. */
export function fileOf(face: Face): string {
  return require.resolve(FILES[face]);
}

/** A stretch of text in one face, or an accidental, which no face has and which is drawn. */
export type Segment =
  { readonly face: Face; readonly text: string } | { readonly accidental: string };

/** Whether a face has a sign, by its code point. */
export type Has = (face: Face, codePoint: number) => boolean;

/** What stands where no face has the sign. */
export const MISSING = '□';

/** Signs that the faces lack and that others say as well; empty: signs that nobody sees. */
const INSTEAD: Readonly<Record<string, string>> = {
  '☞': '→',
  '\u2011': '\u2010',
  '\u00ad': '',
  '\u200b': '',
  '\ufeff': '',
  '\t': ' ',
  '\n': ' ',
};

/** Signs that only join or select others and are nothing where the face lacks them. */
const isSilent = (code: number): boolean =>
  code === 0x200c || code === 0x200d || code === 0x2060 || (code >= 0xfe00 && code <= 0xfe0f);

/**
 * Text as stretches that can be set: each sign in its own face, else in the sans, which has more (polytonic Greek), else as
 * a box. Letters with their marks are composed first, so that a face needs only the whole letter.
 * @param missing is told each sign that no face has
 */
export function segmentsOf(
  text: string,
  face: Face,
  has: Has,
  missing: (sign: string) => void,
): Segment[] {
  const segments: Segment[] = [];
  const add = (next: Face, sign: string): void => {
    const last = segments.at(-1);
    if (last && 'text' in last && last.face === next) {
      segments[segments.length - 1] = { face: next, text: last.text + sign };
    } else segments.push({ face: next, text: sign });
  };
  const fallback: Face = face === 'bold' ? 'bold' : 'sans';
  for (const written of text.normalize('NFC')) {
    const sign = INSTEAD[written] ?? written;
    if (sign === '') continue;
    if (sign in ACCIDENTAL) {
      segments.push({ accidental: sign });
      continue;
    }
    const code = sign.codePointAt(0) ?? 0;
    if (has(face, code)) add(face, sign);
    else if (has(fallback, code)) add(fallback, sign);
    else if (!isSilent(code)) {
      missing(sign);
      add('sans', MISSING);
    }
  }
  return segments;
}
