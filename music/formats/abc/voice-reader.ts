import { midiOf, pitchName, type Letter, type PitchName } from '../../pitch/pitch.ts';
import { QUARTER, type Meter, type Ticks } from '../../score/score.ts';
import { barLength } from '../../score/time.ts';
import { Accidentals } from './accidentals.ts';
import { KNOWN, NAVIGATION } from './decorations.ts';
import { usualUnit, WHOLE, type KeyField } from './fields.ts';
import { emptyNote, Layer, type ReadNote } from './layer.ts';
import { quoted, type Report } from './report.ts';
import type { BarSign, Head, Length, Token } from './tokens.ts';
import type { VoiceSettings } from './voices.ts';

/** A moment of a voice with its place in the text. */
export interface Mark {
  readonly at: Ticks;
  readonly line: number;
  readonly column: number;
}

/** The notes of one line of music, and the lines of words under it. */
export interface Segment {
  readonly line: number;
  readonly from: number;
  readonly words: { text: string; line: number; column: number }[];
}

export interface BarMark extends Mark {
  sign: BarSign;
  /** The ending that begins here. */
  endings: readonly number[];
}

const LONGEST: Ticks = 16 * WHOLE;
const MOST_NOTES = 60_000;

/** Reads the tokens of one voice into notes, bar lines and marks, each at its exact moment. */
export class VoiceReader {
  readonly settings: VoiceSettings;
  readonly report: Report;
  readonly main: Layer;
  readonly overlays: Layer[] = [];
  readonly bars: BarMark[] = [];
  readonly segments: Segment[] = [];
  readonly chords: (Mark & { text: string })[] = [];
  readonly introduction: (Mark & { opens: boolean })[] = [];
  readonly parts: (Mark & { name: string })[] = [];
  readonly keys: (Mark & { field: KeyField })[] = [];
  readonly meters: (Mark & { meter: Meter })[] = [];
  meter: Meter;
  unit: Ticks;
  #key: KeyField;
  #layer: Layer;
  #barStart: Ticks = 0;
  #overlay = 0;
  #signs: { name: string; line: number; column: number }[] = [];
  #grace: PitchName[] = [];
  #graceAt: Mark | null = null;
  #slurs = 0;
  #known: ReadonlySet<string>;

  constructor(
    settings: VoiceSettings,
    start: { key: KeyField; meter: Meter; unit: Ticks | null; known: ReadonlySet<string> },
    report: Report,
  ) {
    this.settings = settings;
    this.report = report;
    this.meter = start.meter;
    this.unit = start.unit ?? usualUnit(start.meter);
    this.#key = start.key;
    this.#known = start.known;
    this.main = new Layer(new Accidentals(start.key.signature, start.key.odd));
    this.#layer = this.main;
  }

  get time(): Ticks {
    return this.#layer.time;
  }

  setKey(field: KeyField, line: number, column: number): void {
    this.#key = field;
    this.keys.push({ at: this.time, field, line, column });
    for (const layer of [this.main, ...this.overlays]) {
      layer.accidentals = new Accidentals(field.signature, field.odd);
    }
  }

  setMeter(meter: Meter, line: number, column: number): void {
    this.meter = meter;
    this.meters.push({ at: this.time, meter, line, column });
  }

  /** One token of music; fields inside the line are the caller's. */
  take(token: Exclude<Token, { kind: 'inline' }>, line: number): void {
    const { column } = token;
    switch (token.kind) {
      case 'space':
        this.#layer.joined = false;
        break;
      case 'note':
        this.#sound([token.head], token.length, line, column);
        break;
      case 'chord': {
        const lengths = new Set(token.heads.map(({ length }) => length.over / length.under));
        if (lengths.size > 1) {
          const words =
            'The notes of this chord have different lengths; all get that of the first.';
          this.report.warn('chord-lengths-differ', words, { line, column });
        }
        const inner = token.heads[0]?.length ?? { over: 1, under: 1 };
        const length = {
          over: inner.over * token.length.over,
          under: inner.under * token.length.under,
        };
        const fingers = token.heads.map((head) => head.finger);
        this.#sound(token.heads, length, line, column, fingers);
        const tied = token.heads.filter((head) => head.tied).length;
        if (tied > 0) this.#tie(false, line, column);
        if (tied > 0 && tied < token.heads.length) {
          const words = 'Only some notes of this chord are tied; every note that stays is held.';
          this.report.warn('tie-of-part', words, { line, column });
        }
        break;
      }
      case 'rest':
        this.#rest(token.letter, token.length, line, column);
        break;
      case 'grace':
        for (const head of token.heads) this.#grace.push(this.#pitch(head, line, column));
        this.#graceAt = { at: this.time, line, column };
        break;
      case 'bar':
        this.#bar(token, line, column);
        break;
      case 'ending':
        this.#ending(token.numbers, line, column);
        break;
      case 'tuplet':
        this.#tuplet(token, line, column);
        break;
      case 'slur':
        if (token.opens) {
          this.#slurs += 1;
          if (token.dotted) this.#signs.push({ name: 'dotted-slur', line, column });
        } else this.#closeSlur(line, column);
        break;
      case 'tie':
        this.#tie(token.dotted, line, column);
        break;
      case 'broken':
        if (!this.#layer.last) {
          const words = `${quoted(token.sign)} needs a note before it.`;
          this.report.warn('rhythm-without-note', words, { line, column });
        } else {
          const count = Math.min(token.count, 3);
          this.#layer.broken = { sign: token.sign, count, line, column };
        }
        break;
      case 'text':
        this.#text(token.text, line, column);
        break;
      case 'decoration':
        this.#decorate(token.name, line, column);
        break;
      case 'overlay':
        this.#startOverlay(line, column);
        break;
    }
  }

  startLine(line: number, goesOn: boolean): void {
    if (!goesOn || this.segments.length === 0) {
      this.segments.push({ line, from: this.main.notes.length, words: [] });
    }
  }

  /** The end of the tune: what is still open is said and let go. */
  finish(line: number): void {
    this.#closeOverlay(line, 1);
    this.#looseSigns();
    this.#looseGrace();
    for (const layer of [this.main, ...this.overlays]) {
      this.#looseTuplet(layer);
      if (layer.broken) this.#looseBroken(layer);
      const { last } = layer;
      if (last?.tie) {
        last.tie = false;
        this.report.warn('tie-without-end', 'A tie at the end leads to no note.', last);
      }
      for (const note of layer.slurs) {
        note.slurStarts -= 1;
        this.report.warn('slur-not-closed', 'A slur begins here and never ends; it is left out.', {
          line: note.line,
          column: note.column,
        });
      }
    }
    for (const overlay of this.overlays) overlay.fillBars(this.bars, this.main.time, line, 1);
  }

  #pitch(head: Head, line: number, column: number): PitchName {
    const layer = this.#layer;
    const octave = head.octave + this.settings.octaves;
    let alter: number;
    if (head.accidental !== null) {
      alter = head.accidental;
      layer.accidentals.set(head.letter, octave, alter);
    } else {
      const tied = layer.last?.tie
        ? layer.last.pitches.find(
            (name) => name.startsWith(head.letter) && name.endsWith(String(octave)),
          )
        : undefined;
      const held = layer.accidentals.held(head.letter, octave);
      alter = tied === undefined ? held.alter : accidentalIn(tied);
      if (tied === undefined && held.fromOtherOctave) {
        const words = `The accidental of this bar on ${head.letter} stands in another octave; ABC 2.1 lets it hold here too.`;
        this.report.warn('accidental-of-other-octave', words, { line, column });
      }
    }
    return pitchName(head.letter as Letter, alter, octave);
  }

  #sound(
    heads: readonly Head[],
    length: Length,
    line: number,
    column: number,
    fingers: readonly (number | null)[] = [],
  ): void {
    const pitched = heads.map((head, i) => ({
      pitch: this.#pitch(head, line, column),
      finger: fingers[i] ?? null,
    }));
    pitched.sort((a, b) => midiOf(a.pitch) - midiOf(b.pitch));
    const note = emptyNote(this.time, line, column);
    note.pitches = [...new Set(pitched.map(({ pitch }) => pitch))];
    if (note.pitches.length < pitched.length) {
      const words = 'A note stands twice in this chord; it is kept once.';
      this.report.warn('chord-note-twice', words, { line, column });
    }
    const inside = pitched.flatMap(({ finger }) => (finger === null ? [] : [finger]));
    for (const n of inside) this.#signs.push({ name: String(n), line, column });
    this.#place(note, length);
  }

  #rest(letter: string, length: Length, line: number, column: number): void {
    if (letter === 'z' || letter === 'x') {
      const note = emptyNote(this.time, line, column);
      note.hidden = letter === 'x';
      this.#place(note, length);
      return;
    }
    const full = barLength(this.meter);
    const bars = length.over / length.under;
    if (full === null || !Number.isInteger(bars) || bars > 500) {
      const words = `A rest of ${String(bars)} bars cannot be counted here.`;
      this.report.problem('bar-rest-impossible', words, { line, column });
      return;
    }
    for (let bar = 0; bar < bars; bar += 1) {
      if (bar > 0)
        this.#bar({ line: 'single', repeatStart: false, repeatEnd: false }, line, column);
      const note = emptyNote(this.time, line, column);
      note.hidden = letter === 'X';
      this.#place(note, { over: full, under: this.unit });
    }
  }

  /** Gives a note its time, with what stood before it. */
  #place(note: ReadNote, length: Length): void {
    const layer = this.#layer;
    const place = { line: note.line, column: note.column };
    if (layer.notes.length >= MOST_NOTES) {
      if (layer.notes.length === MOST_NOTES) {
        this.report.problem(
          'too-long',
          `A voice has more than ${String(MOST_NOTES)} notes.`,
          place,
        );
      }
      return;
    }
    note.drawn = (this.unit * length.over) / length.under;
    const { tuplet, broken, last } = layer;
    note.length = tuplet ? (note.drawn * tuplet.normal) / tuplet.actual : note.drawn;
    if (tuplet) {
      note.tuplet = { actual: tuplet.actual, normal: tuplet.normal };
      tuplet.left -= 1;
      if (tuplet.left === 0) layer.tuplet = null;
    }
    if (broken && last) {
      const short = 1 / 2 ** broken.count;
      const [first, second] = broken.sign === '>' ? [2 - short, short] : [short, 2 - short];
      last.length *= first;
      last.drawn *= first;
      note.length *= second;
      note.drawn *= second;
      note.at = last.at + last.length;
      layer.broken = null;
      if (!Number.isInteger(last.length)) this.#inexact(place);
    }
    if (!Number.isInteger(note.length)) {
      this.#inexact(place);
      note.length = Math.max(1, Math.round(note.length));
    }
    if (note.length > LONGEST) {
      this.report.problem('length-impossible', 'A note is longer than sixteen whole notes.', place);
    }
    this.#join(note, layer);
    note.grace = this.#grace;
    this.#grace = [];
    this.#graceAt = null;
    this.#dress(note);
    if (note.pitches.length > 0) {
      note.slurStarts = this.#slurs;
      for (let n = 0; n < this.#slurs; n += 1) layer.slurs.push(note);
    } else if (this.#slurs > 0) {
      this.report.warn('slur-on-rest', 'A slur begins on a rest; it is left out.', place);
    }
    this.#slurs = 0;
    layer.add(note);
    layer.joined = true;
  }

  #inexact(place: { line: number; column: number }): void {
    const words = 'This length divides a beat in a way that cannot be counted exactly.';
    this.report.problem('length-not-exact', words, place);
  }

  /** What a note has to do with the one before it: tie and beam. */
  #join(note: ReadNote, layer: Layer): void {
    const { last } = layer;
    if (!last) return;
    if (last.tie && !note.pitches.some((pitch) => last.pitches.includes(pitch))) {
      last.tie = false;
      const place = { line: note.line, column: note.column };
      if (note.pitches.length === 0) {
        this.report.warn('tie-without-end', 'A tie leads to a rest; it is left out.', place);
      } else {
        last.slurStarts += 1;
        note.slurEnds += 1;
        const words = `A tie leads from ${last.pitches.join(' ')} to ${note.pitches.join(' ')}; it is read as a slur.`;
        this.report.warn('tie-to-other-note', words, place);
      }
    }
    const flagged = (each: ReadNote): boolean => each.pitches.length > 0 && each.drawn < QUARTER;
    if (layer.joined && flagged(last) && flagged(note)) last.beam = true;
  }

  /** Signs that stood before a note become its fermata, fingers and other signs. */
  #dress(note: ReadNote): void {
    const digits = this.#signs.filter(({ name }) => /^[1-5]$/.test(name));
    const fingered = digits.length > 0 && digits.length === note.pitches.length;
    for (const { name, line, column } of this.#signs) {
      if (name === 'fermata') note.fermata = true;
      else if (fingered && /^[1-5]$/.test(name)) note.fingers.push(Number(name));
      else note.signs.push(name);
      if (/^[1-5]$/.test(name) && !fingered) {
        const words =
          'The fingers before this note do not match its notes in number; they stay as signs.';
        this.report.warn('fingers-do-not-match', words, { line, column });
      }
    }
    this.#signs = [];
  }

  #tie(dotted: boolean, line: number, column: number): void {
    const { last } = this.#layer;
    if (!last || last.pitches.length === 0) {
      this.report.warn('tie-without-note', 'A tie stands where no note is before it.', {
        line,
        column,
      });
      return;
    }
    last.tie = true;
    if (dotted && !last.signs.includes('dotted-tie')) last.signs.push('dotted-tie');
  }

  #closeSlur(line: number, column: number): void {
    const layer = this.#layer;
    const { last } = layer;
    if (layer.slurs.length === 0 || !last) {
      this.report.warn('slur-not-opened', 'A slur ends here and has no beginning.', {
        line,
        column,
      });
      return;
    }
    layer.slurs.pop();
    last.slurEnds += 1;
  }

  #tuplet(token: Extract<Token, { kind: 'tuplet' }>, line: number, column: number): void {
    const compound =
      this.meter.unit >= 8 && this.meter.beats !== null && this.meter.beats % 3 === 0;
    const usual: Readonly<Record<number, number>> = { 2: 3, 3: 2, 4: 3, 6: 2, 8: 3 };
    const normal = token.q ?? usual[token.p] ?? (compound ? 3 : 2);
    const count = token.r ?? token.p;
    if (token.p < 2 || token.p > 9 || normal < 1 || normal > 16 || count < 1 || count > 64) {
      this.report.problem(
        'tuplet-impossible',
        `There is no tuplet of ${String(token.p)} in the time of ${String(normal)} over ${String(count)} notes.`,
        { line, column },
      );
      return;
    }
    this.#looseTuplet(this.#layer);
    this.#layer.tuplet = { actual: token.p, normal, left: count, line, column };
  }

  #looseTuplet(layer: Layer): void {
    const { tuplet } = layer;
    if (!tuplet) return;
    layer.tuplet = null;
    const words = `A tuplet of ${String(tuplet.actual)} has ${String(tuplet.left)} notes too few.`;
    this.report.warn('tuplet-not-full', words, { line: tuplet.line, column: tuplet.column });
  }

  #looseBroken(layer: Layer): void {
    if (!layer.broken) return;
    const { sign, line, column } = layer.broken;
    layer.broken = null;
    const words = `${quoted(sign)} needs a note behind it.`;
    this.report.warn('rhythm-without-note', words, { line, column });
  }

  #text(text: string, line: number, column: number): void {
    if (/^[\^_<>@]/.test(text)) this.#signs.push({ name: `"${text}"`, line, column });
    else this.chords.push({ at: this.time, text, line, column });
  }

  #decorate(name: string, line: number, column: number): void {
    if (name === 'sintro' || name === 'eintro') {
      this.introduction.push({ at: this.time, opens: name === 'sintro', line, column });
      return;
    }
    if (name === 'nil' || name === 'nothing') return;
    if (!this.#known.has(name) && !KNOWN.has(name)) {
      const words = `The sign !${name}! is not known; it is kept as it is.`;
      this.report.warn('sign-unknown', words, { line, column });
    }
    if (NAVIGATION.has(name)) {
      const words = `The sign !${name}! is kept, but the order of playing does not follow it.`;
      this.report.warn('navigation-not-followed', words, { line, column });
    }
    this.#signs.push({ name, line, column });
  }

  /** Signs before a bar line belong to no note: they stay on the last one. */
  #looseSigns(): void {
    for (const { name, line, column } of this.#signs) {
      const { last } = this.#layer;
      if (last && name === 'fermata') last.fermata = true;
      else last?.signs.push(name);
      const words = last
        ? `The sign ${quoted(name)} stands at a bar line; it is kept on the note before.`
        : `The sign ${quoted(name)} belongs to no note.`;
      this.report.warn('sign-without-note', words, { line, column });
    }
    this.#signs = [];
    if (this.#slurs > 0) {
      // A slur may open before a bar line: it waits for the note behind it.
      return;
    }
  }

  #looseGrace(): void {
    if (this.#grace.length > 0 && this.#graceAt) {
      const words = `The grace notes ${this.#grace.join(' ')} lead to no note and are left out.`;
      this.report.warn('grace-without-note', words, this.#graceAt);
    }
    this.#grace = [];
    this.#graceAt = null;
  }

  #bar(sign: BarSign, line: number, column: number): void {
    this.#closeOverlay(line, column);
    this.#looseSigns();
    const layer = this.main;
    this.#looseTuplet(layer);
    this.#looseBroken(layer);
    layer.joined = false;
    layer.accidentals.newBar();
    this.#barStart = layer.time;
    const before = this.bars.at(-1);
    if (before?.at === layer.time) before.sign = merged(before.sign, sign);
    else this.bars.push({ at: layer.time, sign, endings: [], line, column });
  }

  #ending(numbers: readonly number[], line: number, column: number): void {
    const before = this.bars.at(-1);
    if (before?.at === this.main.time) before.endings = numbers;
    else {
      const sign: BarSign = { line: 'single', repeatStart: false, repeatEnd: false };
      this.bars.push({ at: this.main.time, sign, endings: numbers, line, column });
      if (this.main.time > this.#barStart) {
        const words = 'An ending begins here without a bar line.';
        this.report.warn('ending-inside-bar', words, { line, column });
      }
    }
  }

  #startOverlay(line: number, column: number): void {
    this.#looseSigns();
    this.#looseTuplet(this.#layer);
    this.#looseBroken(this.#layer);
    let layer = this.overlays[this.#overlay];
    if (!layer) {
      if (this.#overlay >= 8) {
        this.report.problem(
          'too-many-overlays',
          'More than eight lines lie over each other here.',
          { line, column },
        );
        return;
      }
      layer = new Layer(new Accidentals(this.#key.signature, this.#key.odd));
      this.overlays.push(layer);
    }
    this.#overlay += 1;
    this.#layer = layer;
    layer.fillBars(this.bars, this.#barStart, line, column);
    layer.accidentals.newBar();
    layer.joined = false;
  }

  #closeOverlay(line: number, column: number): void {
    if (this.#overlay === 0) return;
    const end = this.main.time;
    for (const layer of this.overlays.slice(0, this.#overlay)) {
      if (layer.time > end) {
        const words = 'What lies over this bar is longer than the bar itself.';
        this.report.problem('overlay-too-long', words, { line, column });
      } else if (layer.time < end) {
        const words = 'What lies over this bar is shorter than the bar; it ends in a rest.';
        this.report.warn('overlay-too-short', words, { line, column });
        layer.fill(end, line, column);
      }
    }
    this.#layer = this.main;
    this.#overlay = 0;
  }
}

function accidentalIn(pitch: PitchName): number {
  const signs = pitch.replace(/[^#b]/g, '');
  return signs.startsWith('b') ? -signs.length : signs.length;
}

/** Two bar signs at one moment (`:|` and `|:` with a line break between) are one. */
function merged(first: BarSign, second: BarSign): BarSign {
  const rank = ['single', 'dashed', 'none', 'double', 'final'];
  const line = rank.indexOf(second.line) > rank.indexOf(first.line) ? second.line : first.line;
  return {
    line,
    repeatStart: first.repeatStart || second.repeatStart,
    repeatEnd: first.repeatEnd || second.repeatEnd,
  };
}
