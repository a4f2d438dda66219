import type { Voice } from '../../score/score.ts';
import { quoted, type Report } from '../report.ts';
import { plain } from './text.ts';

/** What a `V:` line says of a voice. */
export interface VoiceSettings {
  readonly id: string;
  readonly name: string;
  /** Null: the file names none. */
  readonly clef: Voice['clef'] | null;
  /** Octaves that sounding pitches stand above the written ones. */
  readonly octaves: number;
  readonly line: number;
}

/** Settings that only concern the page or the playing program. */
const LAYOUT = new Set(
  `nm subname snm sname stem stems up down merge brace bracket brk middle m stafflines gstem dyn lyrics gchord
  ins cue staffscale scale voicescale space score-space program volume pan strings capo style color map`.split(
    /\s+/,
  ),
);

/** A voice from the text behind `V:` (id, then name=value) or from the settings of a `K:`. */
export function readVoice(
  text: string,
  line: number,
  known: VoiceSettings | undefined,
  report: Report,
): VoiceSettings | null {
  const match = /^([^\s=\]]{1,40})(?=\s|$)/.exec(text.trim());
  if (!match) return null;
  const id = match[1] ?? '';
  const pairs: [string, string][] = [];
  for (const [word] of text
    .trim()
    .slice(id.length)
    .matchAll(/[^\s=]+\s*=\s*(?:"[^"]*"|[^\s]+)|[^\s]+/g)) {
    const pair = /^([^=\s]+)\s*=\s*(.*)$/s.exec(word);
    pairs.push(pair ? [pair[1] ?? '', (pair[2] ?? '').replaceAll('"', '')] : ['', word]);
  }
  return withSettings(known ?? { id, name: id, clef: null, octaves: 0, line }, pairs, line, report);
}

export function withSettings(
  voice: VoiceSettings,
  pairs: readonly (readonly [name: string, value: string])[],
  line: number,
  report: Report,
): VoiceSettings {
  let { name, clef, octaves } = voice;
  for (const [key, value] of pairs) {
    if (key === 'name' || key === 'nm') name = value === '' ? name : plain(value);
    else if (key === 'clef' || (key === '' && /^(treble|bass|alto|tenor|soprano)/.test(value))) {
      const found = /^(treble|bass)?(\d)?([+-]8)?$/.exec(
        value === 'G' ? 'treble' : value === 'F' ? 'bass' : value,
      );
      if (!found || (found[3] === '+8' && found[1] !== undefined)) {
        const words = `The clef ${quoted(value)} is not among those that can be printed; the treble clef is taken. The notes are not touched.`;
        report.warn('clef-replaced', words, { line });
        clef = 'treble';
      } else {
        const sign = found[1] === 'bass' ? 'bass' : 'treble';
        clef = found[3] === '-8' ? `${sign}-8` : sign;
        octaves = found[3] === '-8' ? -1 : 0;
      }
    } else if (key === 'octave' && /^-?[0-4]$/.test(value)) octaves += Number(value);
    else if (/^(transpose|t|score|sound|shift|instrument)$/.test(key) && value !== '0') {
      const words = `${quoted(`${key}=${value}`)} (a transposing instrument) is not followed; the notes are read as they are written.`;
      report.warn('transposition-not-followed', words, { line });
    } else if (!LAYOUT.has(key === '' ? value.toLowerCase() : key) && value !== '0') {
      report.warn(
        'voice-setting-unknown',
        `${quoted(key === '' ? value : `${key}=${value}`)} is left out.`,
        { line },
      );
    }
  }
  return { ...voice, name, clef, octaves };
}

/** Where a voice stands: its staff, from 1, and whether a brace joins it with others. */
export interface Place {
  readonly staff: number;
  readonly brace: number | null;
}

/** `%%staves (S1V1 S1V2) | (S2V1 S2V2)`: brackets group staves, parentheses voices on one staff. Null: garbled. */
export function readStaves(text: string): ReadonlyMap<string, Place> | null {
  const places = new Map<string, Place>();
  let staff = 0;
  let together = false;
  let brace: number | null = null;
  let braces = 0;
  for (const [word] of text.matchAll(/[()[\]{}|*+]|[^\s()[\]{}|*+]+/g)) {
    if (word === '(') {
      if (together) return null;
      together = true;
      staff += 1;
    } else if (word === ')') {
      if (!together) return null;
      together = false;
    } else if (word === '{') brace = braces++;
    else if (word === '}') brace = null;
    else if (!'[]|*+'.includes(word)) {
      if (!together) staff += 1;
      if (places.has(word)) return null;
      places.set(word, { staff, brace });
    }
  }
  return together ? null : places;
}
