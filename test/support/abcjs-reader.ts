import abcjs from 'abcjs';
import { QUARTER } from '#music';

/** One voice as abcjs 6.7.2 parses it: an independent reader of ABC, made for engraving. */
export interface AbcjsVoice {
  /** `staff.voice`, from 0. */
  readonly id: string;
  /** Onset in ticks, length in ticks, pitches low to high; rests are left out. */
  readonly notes: readonly AbcjsNote[];
  /** Number of syllables in each line of words. */
  readonly syllables: readonly number[];
}

export interface AbcjsNote {
  readonly at: number;
  readonly length: number;
  readonly pitches: readonly string[];
  readonly tied: boolean;
}

interface Element {
  el_type: string;
  duration?: number;
  rest?: unknown;
  pitches?: { pitch: number; accidental?: string; startTie?: unknown; name: string }[];
  lyric?: { syllable: string }[];
  startTriplet?: number;
  tripletMultiplier?: number;
  tripletR?: number;
  accidentals?: { acc: string; note: string }[];
}
interface Staff {
  key: { accidentals?: { acc: string; note: string }[] };
  voices: Element[][];
}

const LETTERS = 'CDEFGAB';
const ALTER: Readonly<Record<string, number>> = {
  sharp: 1,
  flat: -1,
  natural: 0,
  dblsharp: 2,
  dblflat: -2,
};

export function readByAbcjs(text: string): AbcjsVoice[] {
  const [tune] = abcjs.parseOnly(text);
  const voices = new Map<string, { notes: AbcjsNote[]; syllables: number[] }>();
  const tied = new Map<string, Map<string, number>>();
  let start = 0;
  for (const line of (tune?.lines ?? []) as unknown as { staff?: Staff[] }[]) {
    let longest = start;
    line.staff?.forEach((staff, s) => {
      staff.voices.forEach((elements, v) => {
        const id = `${String(s)}.${String(v)}`;
        const voice = voices.get(id) ?? { notes: [], syllables: [] };
        voices.set(id, voice);
        const held = tied.get(id) ?? new Map<string, number>();
        tied.set(id, held);
        longest = Math.max(longest, readVoice(staff, elements, start, voice, held));
      });
    });
    start = longest;
  }
  return [...voices]
    .sort(([a], [b]) => a.localeCompare(b))
    .map(([id, voice]) => ({ id, ...voice }))
    .filter((voice) => voice.notes.length > 0);
}

function readVoice(
  staff: Staff,
  elements: readonly Element[],
  start: number,
  voice: { notes: AbcjsNote[]; syllables: number[] },
  held: Map<string, number>,
): number {
  let at = start;
  let signature = signatureOf(staff.key.accidentals);
  let bar = new Map<string, number>();
  let tuplet = { factor: 1, left: 0 };
  for (const element of elements) {
    if (element.el_type === 'bar') bar = new Map();
    if (element.el_type === 'key') signature = signatureOf(element.accidentals);
    if (element.el_type !== 'note') continue;
    if (element.startTriplet !== undefined) {
      tuplet = {
        factor: element.tripletMultiplier ?? 1,
        left: element.tripletR ?? element.startTriplet,
      };
    }
    const factor = tuplet.left > 0 ? tuplet.factor : 1;
    tuplet.left -= 1;
    const length = Math.round((element.duration ?? 0) * 4 * QUARTER * factor);
    if (element.pitches && !element.rest) {
      const pitches = element.pitches.map((each) => pitchName(each, signature, bar, held));
      const ties = element.pitches.map((each) => each.startTie !== undefined);
      held.clear();
      pitches.forEach(({ place, alter }, i) => {
        if (ties[i]) held.set(place, alter);
      });
      const names = pitches.map(({ name, step }) => ({ name, step }));
      names.sort((a, b) => a.step - b.step);
      voice.notes.push({
        at,
        length,
        pitches: names.map(({ name }) => name),
        tied: ties.includes(true),
      });
      element.lyric?.forEach((lyric, verse) => {
        voice.syllables[verse] =
          (voice.syllables[verse] ?? 0) + (lyric.syllable.trim() === '' ? 0 : 1);
      });
    }
    at += length;
  }
  return at;
}

function signatureOf(
  accidentals: readonly { acc: string; note: string }[] = [],
): Map<string, number> {
  return new Map(accidentals.map(({ acc, note }) => [note.toUpperCase(), ALTER[acc] ?? 0]));
}

/** abcjs counts staff places from middle C (0) and gives only the accidentals that are written. */
function pitchName(
  note: { pitch: number; accidental?: string },
  signature: ReadonlyMap<string, number>,
  bar: Map<string, number>,
  held: ReadonlyMap<string, number>,
): { name: string; step: number; place: string; alter: number } {
  const letter = LETTERS.charAt(((note.pitch % 7) + 7) % 7);
  const octave = 4 + Math.floor(note.pitch / 7);
  const place = letter + String(octave);
  if (note.accidental !== undefined) bar.set(place, ALTER[note.accidental] ?? 0);
  const alter = held.get(place) ?? bar.get(place) ?? signature.get(letter) ?? 0;
  const sign = alter < 0 ? 'b'.repeat(-alter) : '#'.repeat(alter);
  return { name: letter + sign + String(octave), step: note.pitch, place, alter };
}
