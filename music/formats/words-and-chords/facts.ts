import { readKey, type Key } from '../../pitch/key.ts';
import { QUARTER, type Tempo, type Ticks } from '../../score/score.ts';
import { germanNote } from './german-notes.ts';
import { kindOfLabel, notesAfter, type FactKind } from './labels.ts';
import { syllableNote } from './syllable-notes.ts';

export interface Fact {
  readonly kind: FactKind;
  /** As it is written before the colon. */
  readonly label: string;
  readonly text: string;
}

/** The same without a colon, where what stands behind can be nothing else: `Key of G`, `Capo 3`, `4/4`. */
const BARE: readonly (readonly [RegExp, FactKind, string])[] = [
  [/^key(?: of)? ([A-G][#♯b♭]?(?: ?(?:m|min|minor|maj|major))?)$/i, 'key', 'Key'],
  [/^capo (?:at |on )?(?:fret )?(\d{1,2})$/i, 'other', 'Capo'],
  [/^(?:tempo|bpm) (\d{2,3})$/i, 'tempo', 'Tempo'],
  [/^(?:time )?(\d{1,2}\/(?:1|2|4|8|16))$/i, 'time', 'Time'],
];

/** `Key: G`; null: the line is no such line. `©  2020 …` counts too, and `Key of G`. */
export function factOf(line: string): Fact | null {
  const trimmed = line.trim();
  for (const [pattern, kind, label] of BARE) {
    const text = pattern.exec(trimmed)?.[1];
    if (text !== undefined) return { kind, label, text };
  }
  const sign = /^(©|\(c\)) *(.+)$/i.exec(trimmed);
  if (sign) return { kind: 'rights', label: 'Copyright', text: trimmed };
  const match = /^([\p{L}\p{M}© .&-]{1,28}?)\s*[:=]\s*(\S.*)$/u.exec(trimmed);
  if (!match) return null;
  const [, label = '', text = ''] = match;
  const kind = kindOfLabel(label);
  const fact = kind && { kind, label: label.trim(), text: text.trim() };
  // “Tom” is a key in Portuguese, and a name.
  return fact?.kind === 'key' && /^tom$/i.test(fact.label) && !keyIn(fact) ? null : fact;
}

/** The same with any label of at most three words: among the lines over a song. */
export function anyFactOf(line: string): Fact | null {
  const known = factOf(line);
  if (known) return known;
  const match = /^(\p{Lu}[\p{L} ]{0,30}?)\s*:\s*(\S.*)$/u.exec(line.trim());
  const label = match?.[1]?.trim() ?? '';
  if (!match || label.split(/\s+/).length > 3) return null;
  return { kind: 'other', label, text: (match[2] ?? '').trim() };
}

/** `Es-Dur`, `h-Moll`, `fis`: a small letter alone is minor (common practice in German). */
function germanKey(text: string): Key | null {
  const match = /^(\p{L}{1,3})(?:[ -]?(dur|moll|duuri|molli|dúr))?$/iu.exec(text.trim());
  const found = germanNote(match?.[1] ?? '');
  if (!match || !found || found.length !== match[1]?.length) return null;
  const isMinor = match[2] ? /moll/i.test(match[2]) : /^\p{Ll}/u.test(text.trim());
  return { tonic: found.note, mode: isMinor ? 'minor' : 'major' };
}

/** `Ré majeur`, `Fa# menor`, `si bemolle maggiore`, `Lam`; major where nothing says otherwise. */
function syllableKey(text: string): Key | null {
  const name = text.trim().charAt(0).toUpperCase() + text.trim().slice(1);
  const found = syllableNote(name);
  const match =
    /^ ?(bémol|bemol|bemolle|dièse|sostenido|sustenido|diesis)?(?: ?(majeur|mayor|maior|maggiore|mineur|menor|minore|m))?$/iu.exec(
      found ? name.slice(found.length) : '?',
    );
  if (!found || !match) return null;
  const sign = match[1] ? (/^b/i.test(match[1]) ? 'b' : '#') : '';
  return { tonic: found.note + sign, mode: /^(m|[Mm][iIeE].*)$/.test(match[2] ?? '') ? 'minor' : 'major' }; // prettier-ignore
}

const READ_KEY = { German: germanKey, solfège: syllableKey, letters: readKey } as const;

/** The key a fact names; after `Tonart` by German letters, after `tonalité` by syllables. */
export function keyIn({ label, text }: Fact): Key | null {
  const key = READ_KEY[notesAfter(label)](text) ?? readKey(text);
  return key && /^[A-G](#|b)?$/.test(key.tonic) ? key : null;
}

const NOTES: Readonly<Record<string, Ticks>> = {
  whole: QUARTER * 4,
  half: QUARTER * 2,
  quarter: QUARTER,
  eighth: QUARTER / 2,
  '♩': QUARTER,
  '♪': QUARTER / 2,
};

/** `76`, `76 bpm`, `♩ = 76`, `dotted quarter = 50`; null: `slow`. */
export function tempoIn({ text }: Fact): Tempo | null {
  const match =
    /^(?:(dotted )?(whole|half|quarter|eighth|♩|♪)(\.)?(?: note)? *= *)?(?:c\. ?|about |ca\. ?)?(\d{2,3}(?:\.\d{1,3})?) *(?:bpm|beats.*)?$/i.exec(
      text,
    );
  const perMinute = Number(match?.[4]);
  if (!match || !(perMinute >= 10 && perMinute <= 400)) return null;
  const beat = NOTES[(match[2] ?? 'quarter').toLowerCase()] ?? QUARTER;
  return { beat: match[1] || match[3] ? beat * 1.5 : beat, perMinute };
}

/** The tempo as `tempoIn` reads it. */
export function writeTempo({ beat, perMinute }: Tempo): string {
  for (const [note, ticks] of Object.entries(NOTES)) {
    if (beat === ticks) return note === 'quarter' ? `${perMinute}` : `${note} = ${perMinute}`;
    if (beat === ticks * 1.5) return `dotted ${note} = ${perMinute}`;
  }
  return `${Math.round((perMinute * beat) / QUARTER)}`;
}
