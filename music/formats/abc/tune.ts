import type { Meter, Tempo, Ticks } from '../../score/score.ts';
import { readSymbol } from './decorations.ts';
import { DirectiveReader } from './directive-reader.ts';
import { FACTS, FactsReader, HEAD_ONLY } from './facts.ts';
import { usualUnit, type KeyField } from './fields.ts';
import type { FieldLine, Line, TuneLines } from './lines.ts';
import { Macros } from './macros.ts';
import { readOrder } from './part-order.ts';
import type { PartOrder, ReadTune } from './read-tune.ts';
import { quoted, type Report } from '../report.ts';
import { keySetting, meterSetting, NO_KEY, tempoSetting, unitSetting } from './setting-reader.ts';
import { plain } from './text.ts';
import { MOST_HEADS } from './scanner.ts';
import { tokensOf } from './tokens.ts';
import type { VoiceReader } from './voice-reader.ts';
import { VoiceTable } from './voice-table.ts';

const FREE: Meter = { beats: null, unit: 4 };

/** Reads the lines of one tune, its head up to `K:` and its body. Null: it has no key (see the report). */
export function readTune(source: TuneLines, report: Report): ReadTune | null {
  return new TuneReader(report).read(source);
}

class TuneReader {
  readonly #report: Report;
  readonly #facts = new FactsReader();
  readonly #directives: DirectiveReader;
  readonly #voices: VoiceTable;
  readonly #symbols = new Map<string, string>();
  readonly #room = { left: MOST_HEADS };
  readonly #macros = new Macros();
  #order: PartOrder | null = null;
  #meter: Meter | null = null;
  #unit: Ticks | null = null;
  #tempo: Tempo | null = null;
  #toldTempo = false;
  #key: KeyField | null = null;
  #goesOn = false;
  #lastWords: { text: string } | null = null;
  #blankAt = 0;
  #music = false;

  constructor(report: Report) {
    this.#report = report;
    this.#directives = new DirectiveReader(this.#facts, report);
    this.#voices = new VoiceTable(this.#directives, report, () => ({
      key: this.#key ?? NO_KEY,
      meter: this.#meter ?? FREE,
      unit: this.#unit,
    }));
  }

  read({ preface, lines }: TuneLines): ReadTune | null {
    for (const line of preface) this.#line(line);
    for (const line of lines) this.#line(line);
    const first = lines[0]?.number ?? 1;
    const lastLine = lines.at(-1)?.number ?? first;
    for (const voice of this.#voices.all) voice.finish(lastLine);
    this.#directives.finish(first);
    if (!this.#key) {
      const words = 'This tune has no K: line, so nobody can tell which notes are sharp or flat.';
      this.#report.problem('key-missing', words, { line: first });
      return null;
    }
    return {
      facts: this.#facts,
      key: this.#key,
      meter: this.#meter ?? FREE,
      tempo: this.#tempo,
      voices: this.#voices.all,
      staves: this.#directives.staves,
      printed: this.#directives.printed,
      own: this.#directives.own,
      order: this.#order,
      lastLine,
    };
  }

  #line(line: Line): void {
    if (this.#directives.inBlock(line)) return;
    if (line.kind === 'comment') this.#facts.comment(line.text);
    else if (line.kind === 'directive' && line.name === 'partbook-words')
      this.#words({ ...line, column: 1 }, true);
    else if (line.kind === 'directive') this.#directives.read(line, this.#music);
    else if (line.kind === 'field') this.#field(line);
    else if (line.kind === 'music') this.#musicLine(line);
    else if (this.#key && this.#blankAt === 0) this.#blankAt = line.number;
  }

  #field(line: FieldLine): void {
    const { letter, value, number, column } = line;
    const at = { line: number, column };
    if (letter !== '+') this.#lastWords = null;
    if (this.#music && HEAD_ONLY.includes(letter)) {
      const words = `The heading line ${letter}: stands among the notes; perhaps two songs were glued together.`;
      this.#report.warn('heading-among-notes', words, at);
    }
    if (FACTS.includes(letter)) this.#facts.field(line);
    else this.#facts.comment(line.comment, true);
    if (letter === 'X' && !/^\d*$/.test(value)) {
      this.#report.warn('number-odd', `X: should give a number, not ${quoted(value)}.`, at);
    } else if (letter === 'W') this.#directives.printed.push({ text: value });
    else if (letter === 'w') this.#words(line);
    else if (letter === '+') this.#goOn(line);
    else if (letter === 'U') this.#symbol(value, number);
    else if (letter === 'P') this.#part(value, number, column);
    else if ('KMLQV'.includes(letter)) this.#setting(letter, value, number, column);
    else if (letter === 'm') this.#macros.field(value, at, this.#report);
    else if (letter === 's') {
      const words = `The signs ${quoted(value)} under the notes are left out.`;
      this.#report.warn('signs-under-notes', words, at);
    } else if (letter !== 'X' && !FACTS.includes(letter)) {
      const words = `The field ${letter}: ${quoted(value)} is not known and left out.`;
      this.#report.warn('field-unknown', words, at);
    }
  }

  #words(
    { value, number, column }: Pick<FieldLine, 'value' | 'number' | 'column'>,
    onRests = false,
  ): void {
    const segment = this.#voices.current?.segments.at(-1);
    if (!segment) {
      const said = `The words ${quoted(value)} stand before any music; they are kept with the song's facts.`;
      this.#report.warn('words-before-music', said, { line: number });
      if (value !== '') this.#facts.add('w', value);
      return;
    }
    const words = { text: value, line: number, column, onRests };
    segment.words.push(words);
    this.#lastWords = words;
  }

  #goOn({ value, number }: FieldLine): void {
    if (this.#lastWords) this.#lastWords.text += ` ${value}`;
    else {
      const words = `${quoted(value)} goes on with a line that cannot go on.`;
      this.#report.warn('continuation-of-nothing', words, { line: number });
    }
  }

  #symbol(value: string, line: number): void {
    const symbol = readSymbol(value);
    if (symbol) this.#symbols.set(...symbol);
    else {
      const words = `U: ${quoted(value)} cannot be understood.`;
      this.#report.warn('symbol-odd', words, { line });
    }
  }

  #part(value: string, line: number, column: number): void {
    if (value === '') return;
    if (!this.#key) {
      const parts = readOrder(value);
      this.#facts.add('P', value);
      if (parts) this.#order = { parts, line };
      return;
    }
    const voice = this.#voices.here(line);
    voice.parts.push({ at: voice.time, name: plain(value), line, column });
  }

  /** `K:`, `M:`, `L:`, `Q:` and `V:`, in the head, on a line of the body or inside a line of music. */
  #setting(letter: string, value: string, line: number, column: number): void {
    const at = { line, column };
    const report = this.#report;
    const voices = this.#voices.addressed;
    const where = !this.#key ? 'head' : this.#music ? 'music' : 'body';
    if (letter === 'V') this.#voices.field(value, line, column, where);
    else if (letter === 'M') {
      const meter = meterSetting(value, at, report);
      if (meter && !this.#key) this.#meter = meter;
      if (meter) for (const voice of voices) voice.setMeter(meter, line, column);
    } else if (letter === 'L') {
      const unit = unitSetting(value, at, report);
      if (unit !== null && !this.#key) this.#unit = unit;
      if (unit !== null) for (const voice of voices) voice.unit = unit;
    } else if (letter === 'Q') this.#tempoField(value, line, column);
    else this.#keyField(value, line, column);
  }

  /** `Q:` belongs to the whole tune: where it stands among the music, the tempo is another from there on. */
  #tempoField(value: string, line: number, column: number): void {
    const voice = this.#voices.current;
    const unit = voice?.unit ?? this.#unit ?? usualUnit(this.#meter ?? FREE);
    const read = tempoSetting(value, unit, !this.#toldTempo, { line, column }, this.#report);
    if (read.words !== '') this.#facts.add('Q', read.words);
    const { tempo } = read;
    if (!tempo) return;
    this.#toldTempo = true;
    if (voice && this.#key) voice.tempos.push({ at: voice.time, tempo, line, column });
    else this.#tempo = tempo;
  }

  #keyField(value: string, line: number, column: number): void {
    const read = keySetting(value, { line, column }, this.#report);
    if (!read) {
      this.#key ??= NO_KEY;
      return;
    }
    const { field, isKey } = read;
    const voices = this.#voices.addressed;
    if (!this.#key || voices.length === 0) {
      this.#key = field;
      return;
    }
    for (const voice of voices) {
      if (isKey) voice.setKey(field, line, column);
      if (field.settings.length > 0 && voice.main.notes.length > 0) {
        const words = 'A change of clef in the middle is left out; the notes are not touched.';
        this.#report.warn('clef-change', words, { line, column });
      }
    }
  }

  #musicLine(line: Extract<Line, { kind: 'music' }>): void {
    if (!this.#isMusic(line)) return;
    this.#facts.comment(line.comment, true);
    this.#lastWords = null;
    if (!this.#music) this.#voices.announce();
    this.#music = true;
    let started: VoiceReader | null = null;
    const text = this.#macros.writtenOut(line, this.#report);
    for (const token of tokensOf(text, line.number, this.#report, this.#symbols, this.#room)) {
      if (token.kind === 'inline') {
        this.#inline(token.letter, token.value, line.number, token.column);
        continue;
      }
      if (token.kind === 'space' && started === null) continue;
      const voice = this.#voices.here(line.number);
      if (voice !== started) voice.startLine(line.number, this.#goesOn);
      started = voice;
      voice.take(token, line.number);
    }
    this.#goesOn = /\\\s*$/.test(line.text);
    // The end of a line is a space to whatever follows.
    started?.take({ kind: 'space', column: line.text.length + 1 }, line.number);
  }

  #isMusic(line: Extract<Line, { kind: 'music' }>): boolean {
    const at = { line: line.number };
    if (!this.#key) {
      const words = `The line ${quoted(line.text)} stands before the K: line and is left out.`;
      this.#report.warn('text-in-header', words, at);
      return false;
    }
    if (this.#blankAt === 0) return true;
    if (!/\||\[V:/.test(line.text)) {
      const words = `The line ${quoted(line.text)} stands behind an empty line, which ends a tune; it is left out.`;
      this.#report.warn('text-outside', words, at);
      return false;
    }
    const words = 'An empty line ends a tune, but its music goes on; it is read on.';
    this.#report.warn('blank-line-inside', words, { line: this.#blankAt });
    this.#blankAt = 0;
    return true;
  }

  #inline(letter: string, value: string, line: number, column: number): void {
    if ('KMLQV'.includes(letter)) this.#setting(letter, value, line, column);
    else if (letter === 'P') this.#part(value, line, column);
    else if ('NRr'.includes(letter)) this.#facts.add(letter, value);
    else if (letter === 'U') this.#symbol(value, line);
    else {
      const words = `The field ${letter}: ${quoted(value)} inside the music is left out.`;
      this.#report.warn('field-unknown', words, { line, column });
    }
  }
}
