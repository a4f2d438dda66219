import { midiOf, pitchName, requirePitch, type Letter, type PitchName } from '../../pitch/pitch.ts';
import type { Meter, Tempo, Ticks } from '../../score/score.ts';
import { barLength } from '../../score/time.ts';
import { Accidentals } from './accidentals.ts';
import { usualUnit, type KeyField } from './fields.ts';
import { closeSlur, endJoins, join, openSlurs, tie } from './joins.ts';
import { emptyNote, endOverlay, Layer, MOST_NOTES, type ReadNote } from './layer.ts';
import { merged, SINGLE, type BarMark, type Mark, type Segment } from './marks.ts';
import { Pending } from './pending.ts';
import type { At, Report } from '../report.ts';
import { endBroken, endTuplet, startBroken, startTuplet, timeNote } from './rhythm.ts';
import type { BarSign, Head, Length, Token } from './token.ts';
import type { VoiceSettings } from './voices.ts';

/** Reads one voice: notes, bar lines and marks, each at its exact moment. */
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
  readonly tempos: (Mark & { tempo: Tempo })[] = [];
  meter: Meter;
  unit: Ticks;
  readonly #pending: Pending;
  #key: KeyField;
  #layer: Layer;
  #barStart: Ticks = 0;
  #overlay = 0;
  #slurs = 0;

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
    this.#pending = new Pending(start.known, report);
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
    const at = { line, column };
    switch (token.kind) {
      case 'space':
        this.#layer.joined = false;
        break;
      case 'note':
        this.#sound([token.head], token.length, at);
        break;
      case 'chord':
        this.#chord(token, at);
        break;
      case 'rest':
        this.#rest(token.letter, token.length, at);
        break;
      case 'grace':
        for (const head of token.heads) this.#pending.grace(this.#pitch(head, at), at);
        break;
      case 'bar':
        this.#bar(token, at);
        break;
      case 'ending':
        this.#ending(token.numbers, at);
        break;
      case 'tuplet':
        startTuplet(token, this.meter, this.#layer, line, this.report);
        break;
      case 'slur':
        if (!token.opens) closeSlur(this.#layer, at, this.report);
        else this.#slurs += 1;
        if (token.opens && token.dotted) this.#pending.sign('dotted-slur', at);
        break;
      case 'tie':
        tie(this.#layer, token.dotted, at, this.report);
        break;
      case 'broken':
        startBroken(token, this.#layer, line, this.report);
        break;
      case 'text':
        if (/^[\^_<>@]/.test(token.text)) this.#pending.sign(`"${token.text}"`, at);
        else this.chords.push({ at: this.time, text: token.text, ...at });
        break;
      case 'decoration':
        if (token.name === 'sintro' || token.name === 'eintro') {
          this.introduction.push({ at: this.time, opens: token.name === 'sintro', ...at });
        } else this.#pending.decoration(token.name, at);
        break;
      case 'overlay':
        this.#startOverlay(at);
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
    const at = { line, column: 1 };
    this.#closeOverlay(at);
    this.#pending.endSigns(this.main);
    this.#pending.endGrace();
    if (this.#slurs > 0) {
      this.report.warn('slur-not-closed', 'A slur is opened at the end, before no note.', at);
    }
    for (const layer of [this.main, ...this.overlays]) {
      endTuplet(layer, this.report);
      endBroken(layer, this.report);
      endJoins(layer, this.report);
    }
    for (const overlay of this.overlays) overlay.fillBars(this.bars, this.main.time, line, 1);
  }

  #pitch(head: Head, at: Required<At>): PitchName {
    const { accidentals, last } = this.#layer;
    const { letter } = head;
    const octave = head.octave + this.settings.octaves;
    if (head.accidental !== null) {
      accidentals.set(letter, octave, head.accidental);
      return pitchName(letter as Letter, head.accidental, octave);
    }
    const tied = last?.tie
      ? last.pitches.find((name) => name.startsWith(letter) && name.endsWith(String(octave)))
      : undefined;
    if (tied !== undefined) return pitchName(letter as Letter, requirePitch(tied).alter, octave);
    const held = accidentals.held(letter, octave);
    if (held.fromOtherOctave) {
      const words = `The accidental of this bar on ${letter} stands in another octave; ABC 2.1 lets it hold here too.`;
      this.report.warn('accidental-of-other-octave', words, at);
    }
    return pitchName(letter as Letter, held.alter, octave);
  }

  #chord(token: Extract<Token, { kind: 'chord' }>, at: Required<At>): void {
    const { heads } = token;
    if (new Set(heads.map(({ length }) => length.over / length.under)).size > 1) {
      const words = 'The notes of this chord have different lengths; all get that of the first.';
      this.report.warn('chord-lengths-differ', words, at);
    }
    const inner = heads[0]?.length ?? { over: 1, under: 1 };
    const length = {
      over: inner.over * token.length.over,
      under: inner.under * token.length.under,
    };
    this.#sound(heads, length, at);
    const tied = heads.filter((head) => head.tied).length;
    if (tied > 0) tie(this.#layer, false, at, this.report);
    if (tied > 0 && tied < heads.length) {
      const words = 'Only some notes of this chord are tied; every note that stays is held.';
      this.report.warn('tie-of-part', words, at);
    }
  }

  #sound(
    heads: readonly (Head & { readonly finger?: number | null })[],
    length: Length,
    at: Required<At>,
  ): void {
    const pitched = heads.map((head) => ({ pitch: this.#pitch(head, at), finger: head.finger }));
    pitched.sort((a, b) => midiOf(a.pitch) - midiOf(b.pitch));
    const note = emptyNote(this.time, at.line, at.column);
    note.pitches = [...new Set(pitched.map(({ pitch }) => pitch))];
    if (note.pitches.length < pitched.length) {
      const words = 'A note stands twice in this chord; it is kept once.';
      this.report.warn('chord-note-twice', words, at);
    }
    for (const { finger } of pitched) if (finger) this.#pending.sign(String(finger), at);
    this.#place(note, length);
  }

  #rest(letter: string, length: Length, at: Required<At>): void {
    const rest = (): ReadNote => {
      const note = emptyNote(this.time, at.line, at.column);
      note.hidden = letter === 'x' || letter === 'X';
      return note;
    };
    if (letter === 'z' || letter === 'x') {
      this.#place(rest(), length);
      return;
    }
    const full = barLength(this.meter);
    const bars = length.over / length.under;
    if (full === null || !Number.isInteger(bars) || bars > 500) {
      const words = `A rest of ${String(bars)} bars cannot be counted here.`;
      this.report.problem('bar-rest-impossible', words, at);
      return;
    }
    for (let bar = 0; bar < bars; bar += 1) {
      if (bar > 0) this.#bar(SINGLE, at);
      this.#place(rest(), { over: full, under: this.unit });
    }
  }

  /** Gives a note its time, with what stood before it. */
  #place(note: ReadNote, length: Length): void {
    const layer = this.#layer;
    if (layer.notes.length >= MOST_NOTES) {
      const words = `A voice has more than ${String(MOST_NOTES)} notes.`;
      this.report.problem('too-long', words, { line: note.line, column: note.column });
      return;
    }
    timeNote(note, length, this.unit, layer, this.report);
    join(note, layer, this.report);
    this.#pending.dress(note);
    openSlurs(note, this.#slurs, layer, this.report);
    this.#slurs = 0;
    layer.add(note);
    layer.joined = true;
  }

  #bar(sign: BarSign, at: Required<At>): void {
    this.#closeOverlay(at);
    const layer = this.main;
    this.#pending.endSigns(layer);
    endTuplet(layer, this.report);
    endBroken(layer, this.report);
    layer.joined = false;
    layer.accidentals.newBar();
    this.#barStart = layer.time;
    const before = this.bars.at(-1);
    if (before?.at === layer.time) before.sign = merged(before.sign, sign);
    else this.bars.push({ at: layer.time, sign, endings: [], ...at });
  }

  #ending(numbers: readonly number[], at: Required<At>): void {
    const before = this.bars.at(-1);
    if (before?.at === this.main.time) {
      before.endings = numbers;
      return;
    }
    this.bars.push({ at: this.main.time, sign: SINGLE, endings: numbers, ...at });
    if (this.main.time > this.#barStart) {
      this.report.warn('ending-inside-bar', 'An ending begins here without a bar line.', at);
    }
  }

  #startOverlay(at: Required<At>): void {
    this.#pending.endSigns(this.#layer);
    endTuplet(this.#layer, this.report);
    endBroken(this.#layer, this.report);
    let layer = this.overlays[this.#overlay];
    if (!layer) {
      if (this.#overlay >= 8) {
        const words = 'More than eight lines lie over each other here.';
        this.report.problem('too-many-overlays', words, at);
        return;
      }
      layer = new Layer(new Accidentals(this.#key.signature, this.#key.odd));
      this.overlays.push(layer);
    }
    this.#overlay += 1;
    this.#layer = layer;
    layer.fillBars(this.bars, this.#barStart, at.line, at.column);
    layer.accidentals.newBar();
    layer.joined = false;
  }

  #closeOverlay(at: Required<At>): void {
    for (const layer of this.overlays.slice(0, this.#overlay)) {
      endOverlay(layer, this.main.time, at, this.report);
    }
    this.#layer = this.main;
    this.#overlay = 0;
  }
}
