import { signatureOf, type Key, type Mode } from '../../pitch/key.ts';
import { QUARTER, type Meter, type Tempo, type Ticks } from '../../score/score.ts';

export const WHOLE: Ticks = 4 * QUARTER;

/** `M:` 3/4, C, C|, none, 2+3/8. Null: not a meter. */
export function readMeter(text: string): { meter: Meter; grouped: boolean } | null {
  const value = text.trim();
  if (value === 'C') return { meter: { beats: 4, unit: 4 }, grouped: false };
  if (value === 'C|') return { meter: { beats: 2, unit: 2 }, grouped: false };
  if (value.toLowerCase() === 'none' || value === '') {
    return { meter: { beats: null, unit: 4 }, grouped: false };
  }
  const match = /^\(?\s*(\d{1,3}(?:\s*\+\s*\d{1,3}){0,20})\s*\)?\s*\/\s*(\d{1,3})$/.exec(value);
  if (!match) return null;
  const groups = (match[1] ?? '').split('+').map(Number);
  const beats = groups.reduce((sum, each) => sum + each, 0);
  const unit = Number(match[2]);
  if (beats < 1 || beats > 64 || ![1, 2, 4, 8, 16, 32, 64].includes(unit)) return null;
  return { meter: { beats, unit }, grouped: groups.length > 1 };
}

export function writeMeter(meter: Meter): string {
  return meter.beats === null ? 'none' : `${String(meter.beats)}/${String(meter.unit)}`;
}

/** `L:` as ticks of the unit note, or null where it is none (1/0) or cannot be held. */
export function readUnit(text: string): Ticks | null {
  const match = /^(\d{1,3})\s*(?:\/\s*(\d{1,4}))?$/.exec(text.trim());
  if (!match) return null;
  const ticks = (WHOLE * Number(match[1])) / Number(match[2] ?? 1);
  return Number.isInteger(ticks) && ticks > 0 && ticks <= WHOLE ? ticks : null;
}

/** ABC 2.1, 3.1.7: without `L:` a meter below 3/4 counts in sixteenths, any other in eighths. */
export function usualUnit(meter: Meter): Ticks {
  const small = meter.beats !== null && meter.beats / meter.unit < 0.75;
  return small ? WHOLE / 16 : WHOLE / 8;
}

/** `Q:` 1/4=100, "Slowly" 1/4=60, 3/8 3/8=40, and the old 100 (unit notes a minute); words come apart. */
export function readTempo(
  text: string,
  unit: Ticks,
): { tempo: Tempo | null; words: string } | null {
  const words = [...text.matchAll(/"([^"]*)"/g)].map((match) => match[1] ?? '').join(' ');
  const rest = text.replace(/"[^"]*"/g, ' ').trim();
  if (rest === '') return words === '' ? null : { tempo: null, words };
  const plainNumber = /^(?:C\s*(\d{0,2})\s*=\s*)?(\d{1,4}(?:\.\d{1,3})?)$/.exec(rest);
  if (plainNumber) return tempoOf(unit * Number(plainNumber[1] || 1), plainNumber[2] ?? '', words);
  const match = /^((?:\d{1,3}\/\d{1,3}\s*){1,8})=\s*(\d{1,4}(?:\.\d{1,3})?)$/.exec(rest);
  if (!match) return null;
  let beat = 0;
  for (const [, over, under] of (match[1] ?? '').matchAll(/(\d+)\/(\d+)/g)) {
    beat += (WHOLE * Number(over)) / Number(under);
  }
  return tempoOf(beat, match[2] ?? '', words);
}

function tempoOf(
  beat: number,
  text: string,
  words: string,
): { tempo: Tempo; words: string } | null {
  const perMinute = Number(text);
  const held = Number.isInteger(beat) && beat > 0 && beat <= 2 * WHOLE && perMinute > 0;
  return held ? { tempo: { beat, perMinute }, words } : null;
}

/** What a `K:` line says. */
export interface KeyField {
  /** The tonic and, where it is named, the mode: `K:G` names none. */
  readonly tonic: string | null;
  readonly mode: Mode | null;
  readonly signature: number;
  /** Set where accidentals are added to the signature (`K:Em ^c`) and make no usual signature. */
  readonly odd: readonly (readonly [letter: string, alter: number])[];
  /** clef=, octave= and the like, also a bare clef name. */
  readonly settings: readonly (readonly [name: string, value: string])[];
  /** Words that mean nothing here. */
  readonly unknown: readonly string[];
}

const MODES: readonly (readonly [RegExp, Mode])[] = [
  [/^(maj|ion)[a-z]*$/i, 'major'],
  [/^(m|min[a-z]*|aeo[a-z]*)$/i, 'minor'],
  [/^dor[a-z]*$/i, 'dorian'],
  [/^phr[a-z]*$/i, 'phrygian'],
  [/^lyd[a-z]*$/i, 'lydian'],
  [/^mix[a-z]*$/i, 'mixolydian'],
  [/^loc[a-z]*$/i, 'locrian'],
];
const CLEF = /^(treble|bass|alto|tenor|soprano|mezzosoprano|baritone|perc|none)([+-]8|\d)?/;
const SHARPS = 'FCGDAEB';

export function readKeyField(text: string): KeyField | null {
  const value = text.trim();
  let rest = value;
  let tonic: string | null = null;
  let mode: Mode | null = null;
  let signature = 0;
  const head = /^([A-G])([#b]?)(?![a-z]*clef)/.exec(value);
  if (/^H[Pp]\b/.test(value)) {
    signature = 2; // The Highland pipe scale: F and C sharp (ABC 2.1, 3.1.14).
    rest = value.slice(2);
  } else if (/^none\b/i.test(value)) {
    rest = value.slice(4);
  } else if (head) {
    tonic = (head[1] ?? '') + (head[2] ?? '');
    rest = value.slice(head[0].length);
    const word = /^\s*([A-Za-z]+)(?=\s|$)/.exec(rest);
    const found = MODES.find(([pattern]) => pattern.test(word?.[1] ?? ''));
    if (word && found) {
      mode = found[1];
      rest = rest.slice(word[0].length);
    } else if (rest !== '' && !/^\s/.test(rest)) {
      return null;
    }
    signature = signatureOf({ tonic, mode: mode ?? 'major' });
    if (Math.abs(signature) > 7) return null;
  } else if (value !== '' && !/^(exp\b|[\^_=]|[a-z]+=|treble|bass|alto|tenor)/.test(value)) {
    return null;
  }
  return { tonic, mode, ...keySettings(rest, signature) };
}

function keySettings(
  rest: string,
  base: number,
): Pick<KeyField, 'signature' | 'odd' | 'settings' | 'unknown'> {
  const alters = new Map<string, number>();
  for (let i = 0; i < Math.abs(base); i += 1) {
    alters.set(base > 0 ? SHARPS.charAt(i) : SHARPS.charAt(6 - i), Math.sign(base));
  }
  const settings: [string, string][] = [];
  const unknown: string[] = [];
  let changed = false;
  for (const [word] of rest.matchAll(/[^\s=]+=(?:"[^"]*"|[^\s]*)|[^\s]+/g)) {
    const accidental = /^([\^_=]{1,2})([a-gA-G])$/.exec(word);
    const setting = /^([A-Za-z]+)=(.*)$/s.exec(word);
    if (accidental) {
      changed = true;
      const sign = accidental[1] ?? '';
      alters.set((accidental[2] ?? '').toUpperCase(), alterOf(sign));
    } else if (word === 'exp') {
      changed = true;
      alters.clear();
    } else if (setting) settings.push([setting[1] ?? '', (setting[2] ?? '').replaceAll('"', '')]);
    else if (CLEF.test(word)) settings.push(['clef', word]);
    else unknown.push(word);
  }
  if (!changed) return { signature: base, odd: [], settings, unknown };
  for (const [letter, alter] of alters) if (alter === 0) alters.delete(letter);
  const usual = usualSignature(alters);
  return { signature: usual ?? base, odd: usual === null ? [...alters] : [], settings, unknown };
}

export function alterOf(sign: string): number {
  return sign.startsWith('=') ? 0 : sign.startsWith('^') ? sign.length : -sign.length;
}

function usualSignature(alters: ReadonlyMap<string, number>): number | null {
  for (const sign of [1, -1]) {
    const order = sign > 0 ? SHARPS : [...SHARPS].reverse().join('');
    const letters = order.slice(0, alters.size);
    if ([...letters].every((letter) => alters.get(letter) === sign)) return sign * alters.size;
  }
  return null;
}

const MODE_WORDS: Readonly<Record<Mode, string>> = {
  major: 'maj',
  minor: 'min',
  dorian: 'dor',
  phrygian: 'phr',
  lydian: 'lyd',
  mixolydian: 'mix',
  locrian: 'loc',
};

/** `Emin`, with the accidentals that its signature has more (`Emin ^c`: two sharps). */
export function writeKeyField(key: Key, signature: number): string {
  const own = signatureOf(key);
  const added: string[] = [];
  for (let i = 0; i < 7; i += 1) {
    const alter = (fifths: number): number =>
      fifths > 0 ? (i < fifths ? 1 : 0) : 6 - i < -fifths ? -1 : 0;
    if (alter(own) !== alter(signature)) {
      added.push(
        (alter(signature) > 0 ? '^' : alter(signature) < 0 ? '_' : '=') +
          SHARPS.charAt(i).toLowerCase(),
      );
    }
  }
  return [key.tonic + MODE_WORDS[key.mode], ...added].join(' ');
}
