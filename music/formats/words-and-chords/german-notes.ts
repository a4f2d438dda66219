import type { NoteName } from '../../pitch/pitch.ts';

/** A letter with the sign that stands behind it, in ASCII. */
export const sharpened = (letter: string, sign: string): NoteName => {
  const ends: Readonly<Record<string, string>> = { '♯': '#', '♭': 'b' };
  return letter + sign.replace(/[♯♭]/g, (each) => ends[each] ?? '');
};

/** `Fis` → F#, `As` → Ab, `B` → Bb, `H` → B; a figure or an accidental sign counts too (common practice in German). */
export function germanNote(text: string): { note: NoteName; length: number } | null {
  const match = /^([A-Ha-h])(isis|eses|is|es|s(?!us)|[#♯b♭])?/.exec(text);
  if (!match) return null;
  const letter = (match[1] ?? '').toUpperCase();
  const end = match[2] ?? '';
  if (end === 's' && letter !== 'A' && letter !== 'E') return null;
  // “B” with a flat sign is typed by those who know both habits: it is one B flat.
  if (letter === 'B')
    return /^(is|isis|#|♯)$/.test(end) ? null : { note: 'Bb', length: match[0].length };
  const base = letter === 'H' ? 'B' : letter;
  const signs: Readonly<Record<string, string>> = {
    is: '#',
    isis: '##',
    es: 'b',
    eses: 'bb',
    s: 'b',
  };
  return { note: base + (signs[end] ?? sharpened('', end)), length: match[0].length };
}
