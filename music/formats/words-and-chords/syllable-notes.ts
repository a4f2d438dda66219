import type { NoteName } from '../../pitch/pitch.ts';
import { sharpened } from './german-notes.ts';

const SYLLABLES: Readonly<Record<string, string>> = {
  do: 'C',
  re: 'D',
  ré: 'D',
  mi: 'E',
  fa: 'F',
  sol: 'G',
  so: 'G',
  la: 'A',
  si: 'B',
  ti: 'B',
};

/** `Sol#`, `Sib`, `Fa dièse`: the syllables are fixed, do is C (common practice in Romance languages). */
export function syllableNote(text: string): { note: NoteName; length: number } | null {
  const match = /^(do|r[eé]|mi|fa|sol|so(?!l)|la|si|ti)(#|♯|b(?!emol)|♭)?/i.exec(text);
  const letter = SYLLABLES[(match?.[1] ?? '').toLowerCase()];
  if (!match || letter === undefined || !/^\p{Lu}/u.test(text)) return null;
  return { note: sharpened(letter, match[2] ?? ''), length: match[0].length };
}
