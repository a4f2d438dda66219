import { requirePitch, type PitchName } from '../../pitch/pitch.ts';
import { heldByWords } from '../../score/held-words.ts';
import { QUARTER, type Bar, type Note, type Ticks, type Voice } from '../../score/score.ts';
import { Accidentals } from './accidentals.ts';
import { reduced } from './write-head.ts';

/** A note, or the part of it that lies in one bar. */
export interface Piece extends Note {
  readonly goesOn: boolean;
  /** The verses (as `syllables` is indexed) whose last syllable is held over it because the words say so. */
  readonly held?: readonly number[];
}

/** The notes of a voice bar by bar; one that crosses a bar line becomes two that are tied. */
export function piecesOf(voice: Voice, bars: readonly Bar[]): Piece[][] {
  const rows: Piece[][] = bars.map(() => []);
  let bar = 0;
  const held = heldByWords(voice.notes);
  for (const note of voice.notes) {
    let { at } = note;
    const end = note.at + note.length;
    while (at < end) {
      while (bar < bars.length - 1 && at >= (bars[bar + 1]?.at ?? Infinity)) bar += 1;
      const stop = bar < bars.length - 1 ? Math.min(end, bars[bar + 1]?.at ?? end) : end;
      const verses = at === note.at ? held.get(note) : undefined;
      rows[bar]?.push({ ...pieceOf(note, at, stop), ...(verses && { held: verses }) });
      at = stop;
    }
  }
  return rows;
}

function pieceOf(note: Note, from: Ticks, to: Ticks): Piece {
  const first = from === note.at;
  const goesOn = to < note.at + note.length;
  if (first && !goesOn) return { ...note, goesOn };
  const { tie, slurEnds, syllables, slurStarts, fermata, grace, fingers, signs, ...rest } = note;
  return {
    ...rest,
    at: from,
    length: to - from,
    goesOn,
    ...(first && syllables && { syllables }),
    ...(first && slurStarts && { slurStarts }),
    ...(first && grace && { grace }),
    ...(first && fingers && { fingers }),
    ...(first && signs && { signs }),
    ...(!goesOn && slurEnds && { slurEnds }),
    ...(!goesOn && fermata && { fermata }),
    ...((goesOn ? note.pitches.length > 0 : tie) && { tie: true as const }),
  };
}

/** Writes the notes of one voice in order and remembers which accidentals hold. */
export class NoteWriter {
  #accidentals: Accidentals;
  #tied: readonly PitchName[] = [];
  readonly #octaves: number;

  /** @param octaves how far the written notes stand above the sounding ones */
  constructor(signature: number, octaves: number) {
    this.#accidentals = new Accidentals(signature);
    this.#octaves = octaves;
  }

  setSignature(signature: number): void {
    this.#accidentals = new Accidentals(signature);
  }

  newBar(): void {
    this.#accidentals.newBar();
  }

  /** One note with everything that belongs to it; `tuplet` is the sign that opens its group, `marks` stand before. */
  note(note: Note, tuplet: string, marks: string): string {
    const signs = (note.signs ?? []).filter((sign) => !this.#isPartOfLine(sign, note));
    const before = [
      ...signs.map((sign) => (sign.startsWith('"') ? sign : `!${sign}!`)),
      ...(note.fermata ? ['!fermata!'] : []),
      ...(note.fingers ?? []).map((finger) => `!${String(finger)}!`),
    ].join('');
    const grace = note.grace?.length
      ? `{${note.grace.map((pitch) => this.#head(pitch)).join('')}}`
      : '';
    const starts = note.slurStarts ?? 0;
    const dotted = starts > 0 && note.signs?.includes('dotted-slur');
    const slurs = (dotted ? '.' : '') + '('.repeat(starts);
    const heads = note.pitches.map((pitch) => this.#head(pitch));
    const body =
      heads.length === 0
        ? note.hidden
          ? 'x'
          : 'z'
        : heads.length === 1
          ? heads.join('')
          : `[${heads.join('')}]`;
    const tie = note.tie ? (note.signs?.includes('dotted-tie') ? '.-' : '-') : '';
    this.#tied = note.tie ? note.pitches : [];
    const ends = ')'.repeat(note.slurEnds ?? 0);
    return `${tuplet}${marks}${slurs}${grace}${before}${body}${lengthOf(note)}${tie}${ends}`;
  }

  #isPartOfLine(sign: string, note: Note): boolean {
    if (sign === 'dotted-tie') return note.tie === true;
    return sign === 'dotted-slur' && (note.slurStarts ?? 0) > 0;
  }

  #head(name: PitchName): string {
    const { letter, alter, octave } = requirePitch(name);
    const tied = this.#tied.find(
      (each) => each.startsWith(letter) && each.endsWith(String(octave)),
    );
    const expected =
      tied === undefined ? this.#accidentals.held(letter, octave).alter : requirePitch(tied).alter;
    let sign = '';
    if (expected !== alter) {
      sign = alter === 0 ? '=' : (alter > 0 ? '^' : '_').repeat(Math.abs(alter));
      this.#accidentals.set(letter, octave, alter);
    }
    const written = octave + this.#octaves;
    if (written >= 5) return sign + letter.toLowerCase() + "'".repeat(written - 5);
    return sign + letter + ','.repeat(4 - written);
  }
}

function lengthOf(note: Note): string {
  const { actual, normal } = note.tuplet ?? { actual: 1, normal: 1 };
  const [over, under] = reduced(note.length * actual, QUARTER * normal);
  if (under === 1) return over === 1 ? '' : String(over);
  if (over === 1 && under === 2) return '/';
  return `${over === 1 ? '' : String(over)}/${String(under)}`;
}

/** For each note of a bar the sign that opens its tuplet, or nothing: a group ends where it fills plain time. */
export function tupletSigns(notes: readonly Note[]): string[] {
  const signs = notes.map(() => '');
  let i = 0;
  while (i < notes.length) {
    const tuplet = notes[i]?.tuplet;
    if (!tuplet) {
      i += 1;
      continue;
    }
    let count = 0;
    let filled = 0;
    while (i + count < notes.length && count < 64) {
      const next = notes[i + count];
      if (next?.tuplet?.actual !== tuplet.actual || next.tuplet.normal !== tuplet.normal) break;
      filled += next.length;
      count += 1;
      if (isPlain(filled)) break;
    }
    signs[i] = `(${String(tuplet.actual)}:${String(tuplet.normal)}:${String(count)}`;
    i += count;
  }
  return signs;
}

/** A number of 64ths. */
function isPlain(ticks: Ticks): boolean {
  return (ticks * 16) % QUARTER === 0;
}
