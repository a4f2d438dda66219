import type { Meter, Tempo, Ticks } from '../../score/score.ts';
import { isLayout } from './directives.ts';
import { FactsReader, typesetText } from './facts.ts';
import {
  readKeyField,
  readMeter,
  readTempo,
  readUnit,
  usualUnit,
  type KeyField,
} from './fields.ts';
import type { FieldLine, Line, TuneLines } from './lines.ts';
import { quoted, type Report } from './report.ts';
import { plain } from './text.ts';
import { tokensOf } from './tokens.ts';
import type { PrintedLine } from './verses.ts';
import { VoiceReader } from './voice-reader.ts';
import { readStaves, readVoice, withSettings, type Place, type VoiceSettings } from './voices.ts';

/** Everything a tune says, voice by voice, before it is put together. */
export interface ReadTune {
  readonly facts: FactsReader;
  readonly key: KeyField;
  readonly meter: Meter;
  readonly tempo: Tempo | null;
  readonly voices: readonly VoiceReader[];
  readonly staves: ReadonlyMap<string, Place> | null;
  /** Words printed below the music. */
  readonly printed: readonly PrintedLine[];
  /** The directives of our own writer: [name, value]. */
  readonly own: readonly (readonly [name: string, value: string, line: number])[];
  readonly lastLine: number;
}

const HEADING = 'TCSABDFGHNORZrI';

/** Reads the lines of one tune, its header up to `K:` and its body. Null: something is wrong (see the report). */
export function readTune(source: TuneLines, report: Report): ReadTune | null {
  return new TuneReader(report).read(source);
}

class TuneReader {
  readonly #report: Report;
  readonly #facts = new FactsReader();
  readonly #voices = new Map<string, VoiceReader>();
  readonly #settings = new Map<string, VoiceSettings>();
  readonly #known = new Set<string>();
  readonly #symbols = new Map<string, string>();
  readonly #printed: PrintedLine[] = [];
  readonly #own: [string, string, number][] = [];
  readonly #layout = new Map<string, number>();
  #meter: Meter | null = null;
  #unit: Ticks | null = null;
  #tempo: Tempo | null = null;
  #key: KeyField | null = null;
  #staves: ReadonlyMap<string, Place> | null = null;
  #voice: VoiceReader | null = null;
  #goesOn = false;
  #lastWords: { text: string } | null = null;
  #block: Line[] | null = null;
  #blankAt = 0;
  #music = false;

  constructor(report: Report) {
    this.#report = report;
  }

  read(source: TuneLines): ReadTune | null {
    const { preface, lines } = source;
    const report = this.#report;
    for (const line of [...preface, ...lines]) this.#line(line);
    const first = lines[0]?.number ?? 1;
    const lastLine = lines.at(-1)?.number ?? first;
    if (this.#block)
      report.warn('text-not-closed', '%%begintext has no %%endtext.', {
        line: this.#block[0]?.number ?? lastLine,
      });
    if (!this.#key) {
      const words = 'This tune has no K: line, so nobody can tell which notes are sharp or flat.';
      report.problem('key-missing', words, { line: first });
      return null;
    }
    for (const voice of this.#voices.values()) voice.finish(lastLine);
    this.#sayLayout(first);
    return {
      facts: this.#facts,
      key: this.#key,
      meter: this.#meter ?? { beats: null, unit: 4 },
      tempo: this.#tempo,
      voices: [...this.#voices.values()],
      staves: this.#staves,
      printed: this.#printed,
      own: this.#own,
      lastLine,
    };
  }

  #line(line: Line): void {
    if (this.#block) {
      this.#inBlock(line);
      return;
    }
    switch (line.kind) {
      case 'blank':
        if (this.#key && this.#blankAt === 0) this.#blankAt = line.number;
        break;
      case 'comment':
        this.#facts.comment(line.text);
        break;
      case 'directive':
        this.#directive(line.name, line.value, line);
        break;
      case 'field':
        this.#field(line);
        break;
      case 'music':
        this.#musicLine(line);
        break;
    }
  }

  #inBlock(line: Line): void {
    const block = this.#block ?? [];
    if (!(line.kind === 'directive' && line.name === 'endtext')) {
      block.push(line);
      return;
    }
    this.#block = null;
    const text = typesetText(block.slice(1));
    if (/^\d{1,3}[.):]/.test(text.find((each) => each !== '') ?? '')) {
      if (this.#printed.length > 0) this.#printed.push({ text: '' });
      for (const each of text) this.#printed.push({ text: each });
    } else if (text.some((each) => each !== '')) {
      this.#facts.add('text', text.join('\n').trim());
    }
  }

  #directive(name: string, value: string, line: { number: number } & Line): void {
    const at = { line: line.number };
    const text = value.replace(/(^|[^\\])%.*$/s, '$1').trim();
    if (name === 'begintext') this.#block = [line];
    else if (name === 'staves' || name === 'score') {
      const staves = readStaves(text);
      if (!staves)
        this.#report.warn(
          'staves-garbled',
          `${quoted(`%%${name} ${text}`)} cannot be understood; every voice gets its own staff.`,
          at,
        );
      else if (this.#staves && this.#music)
        this.#report.warn(
          'staves-change',
          'The staves change in the middle; the first order is kept.',
          at,
        );
      else this.#staves = staves;
    } else if (name === 'deco') this.#known.add(text.split(/\s/)[0] ?? '');
    else if (name === 'text' || name === 'center') this.#facts.add(name, text);
    else if (name === 'partbook-fact') this.#fact(value);
    else if (name.startsWith('partbook-'))
      this.#own.push([name.slice(9), value.trim(), line.number]);
    else if (name === 'propagate-accidentals' && text !== 'pitch') {
      this.#report.problem(
        'accidentals-otherwise',
        `%%propagate-accidentals ${text} is not followed, so the notes could be wrong.`,
        at,
      );
    } else if (name === '' || isLayout(name))
      this.#layout.set(name, (this.#layout.get(name) ?? 0) + 1);
    else
      this.#report.warn(
        'directive-unknown',
        `${quoted(`%%${name}`)} is not known and left out.`,
        at,
      );
  }

  /** `%%partbook-fact "name" text`, where no field of ABC holds it. */
  #fact(value: string): void {
    const match = /^"([^"]*)"\s?(.*)$/s.exec(value);
    if (match) this.#facts.add(plain(match[1] ?? ''), plain(match[2] ?? '').trim());
  }

  #sayLayout(line: number): void {
    const names = [...this.#layout].filter(([name]) => name !== '');
    const count = names.reduce((sum, [, each]) => sum + each, 0);
    const { comments } = this.#facts;
    if (count > 0) {
      const list = names
        .slice(0, 12)
        .map(([name]) => name)
        .join(', ');
      const words = `${String(count)} directives for the page and the playing program (${list}) hold no music and are not kept.`;
      this.#report.warn('info-layout', words, { line });
    }
    if (comments > 0) {
      const words = `${String(comments)} comment lines are not kept.`;
      this.#report.warn('info-comments', words, { line });
    }
  }

  #field(line: FieldLine): void {
    const { letter, value, number, column } = line;
    if (letter !== '+') this.#lastWords = null;
    if (this.#key && this.#music && 'XCSABDFGHOZ'.includes(letter)) {
      const words = `The heading line ${letter}: stands among the notes; perhaps two songs were glued together.`;
      this.#report.warn('heading-among-notes', words, { line: number });
    }
    if (letter === 'X') this.#number(line);
    else if (HEADING.includes(letter)) this.#facts.field(line);
    else if (letter === 'W') {
      this.#printed.push({ text: value });
    } else if (letter === 'w') this.#words(line);
    else if (letter === '+') this.#goOn(line);
    else if (letter === 'U') this.#symbol(line);
    else if (letter === 'm')
      this.#report.problem('macro', 'Macros (m:) are not followed, so notes could be missing.', {
        line: number,
      });
    else if (letter === 's')
      this.#report.warn(
        'signs-under-notes',
        `The signs ${quoted(value)} under the notes are left out.`,
        { line: number },
      );
    else if (letter === 'P') this.#part(value, number, column);
    else if ('KMLQV'.includes(letter)) this.#setting(letter, value, number, column, false);
    else
      this.#report.warn(
        'field-unknown',
        `The field ${letter}: ${quoted(value)} is not known and left out.`,
        { line: number },
      );
    if (!HEADING.includes(letter)) this.#facts.comment(line.comment, true);
  }

  #number(line: FieldLine): void {
    if (!/^\d*$/.test(line.value)) {
      this.#report.warn('number-odd', `X: should give a number, not ${quoted(line.value)}.`, {
        line: line.number,
      });
    }
    this.#facts.comment(line.comment, true);
  }

  #words(line: FieldLine): void {
    const segment = this.#voice?.segments.at(-1);
    if (!segment) {
      this.#report.warn(
        'words-before-music',
        `The words ${quoted(line.value)} stand before any music; they are kept with the song's facts.`,
        { line: line.number },
      );
      if (line.value !== '') this.#facts.add('w', line.value);
      return;
    }
    const words = { text: line.value, line: line.number, column: line.column };
    segment.words.push(words);
    this.#lastWords = words;
  }

  #goOn(line: FieldLine): void {
    if (this.#lastWords) this.#lastWords.text += ` ${line.value}`;
    else
      this.#report.warn(
        'continuation-of-nothing',
        `${quoted(line.value)} goes on with a line that cannot go on.`,
        { line: line.number },
      );
  }

  #symbol(line: FieldLine): void {
    const match = /^([A-Za-z~.])\s*=\s*[!+]?([^!+\s]+)[!+]?$/.exec(line.value);
    if (!match || /[A-Ga-gxyzXZ]/.test(match[1] ?? '')) {
      this.#report.warn('symbol-odd', `U: ${quoted(line.value)} cannot be understood.`, {
        line: line.number,
      });
    } else this.#symbols.set(match[1] ?? '', match[2] ?? '');
  }

  #part(value: string, line: number, column: number): void {
    if (!this.#key) {
      if (value !== '') this.#facts.add('P', value);
      return;
    }
    const voice = this.#current(line);
    if (value !== '') voice.parts.push({ at: voice.time, name: plain(value), line, column });
  }

  /** `K:`, `M:`, `L:`, `Q:` and `V:`, in the header, on a line of the body or inside a line of music. */
  #setting(letter: string, value: string, line: number, column: number, inline: boolean): void {
    const at = { line, column };
    const report = this.#report;
    const inBody = this.#key !== null;
    const voices = this.#voice ? [this.#voice] : [...this.#voices.values()];
    if (letter === 'V') this.#voiceField(value, line, column, inBody);
    else if (letter === 'M') {
      const read = readMeter(value);
      if (!read) report.problem('meter-odd', `M: ${quoted(value)} is not a meter.`, at);
      else {
        if (read.grouped)
          report.warn(
            'meter-grouping',
            `The grouping of the meter ${quoted(value)} is not kept.`,
            at,
          );
        if (!inBody) this.#meter = read.meter;
        for (const voice of voices) voice.setMeter(read.meter, line, column);
      }
    } else if (letter === 'L') {
      const unit = readUnit(value);
      if (unit === null)
        report.problem('unit-odd', `L: ${quoted(value)} is not a note length.`, at);
      else {
        if (!inBody) this.#unit = unit;
        for (const voice of voices) voice.unit = unit;
      }
    } else if (letter === 'Q') this.#tempoField(value, line, column);
    else if (letter === 'K') this.#keyField(value, line, column, inline);
  }

  #tempoField(value: string, line: number, column: number): void {
    const at = { line, column };
    const unit = this.#voice?.unit ?? this.#unit ?? usualUnit(this.#meter ?? { beats: 4, unit: 4 });
    const read = readTempo(value, unit);
    if (!read) {
      this.#report.warn('tempo-odd', `Q: ${quoted(value)} is not a tempo and is left out.`, at);
      return;
    }
    if (read.words !== '') this.#facts.add('Q', read.words);
    if (!read.tempo) return;
    if (
      this.#tempo &&
      (this.#tempo.beat !== read.tempo.beat || this.#tempo.perMinute !== read.tempo.perMinute)
    ) {
      this.#report.warn(
        'tempo-change',
        `The tempo changes to ${quoted(value)} here; only the first is kept.`,
        at,
      );
      return;
    }
    if (!this.#tempo) {
      const words = `The tempo ${quoted(value)} is what this file asks of a playing program; it need not be a hymnal's.`;
      this.#report.warn('info-tempo', words, at);
    }
    this.#tempo = read.tempo;
  }

  #keyField(value: string, line: number, column: number, inline: boolean): void {
    const at = { line, column };
    const field = readKeyField(value);
    if (!field) {
      this.#report.problem('key-odd', `K: ${quoted(value)} is not a key.`, at);
      if (!this.#key && !inline)
        this.#key = { tonic: null, mode: null, signature: 0, odd: [], settings: [], unknown: [] };
      return;
    }
    if (field.odd.length > 0) {
      this.#report.warn(
        'signature-odd',
        `The signature of K: ${quoted(value)} is an unusual one; its notes are right, the printed signature is that of the nearest key.`,
        at,
      );
    }
    for (const word of field.unknown)
      this.#report.warn('key-word-unknown', `${quoted(word)} in K: is left out.`, at);
    if (!this.#key) {
      this.#key = field;
      return;
    }
    const voices = this.#voice ? [this.#voice] : [...this.#voices.values()];
    if (voices.length === 0) this.#key = field;
    const isKey = field.tonic !== null || value === '' || /^(none|exp|H[Pp]|[\^_=])/.test(value);
    for (const voice of voices) {
      if (isKey) voice.setKey(field, line, column);
      if (field.settings.length > 0 && voice.main.notes.length > 0) {
        this.#report.warn(
          'clef-change',
          'A change of clef in the middle is left out; the notes are not touched.',
          at,
        );
      }
    }
  }

  #voiceField(value: string, line: number, column: number, inBody: boolean): void {
    const id = /^[^\s]+/.exec(value)?.[0] ?? '';
    const known = this.#settings.get(id);
    const settings = readVoice(value, line, known, this.#report);
    if (!settings) {
      this.#report.problem('voice-odd', `V: ${quoted(value)} names no voice.`, { line, column });
      return;
    }
    if (this.#settings.size > 64) {
      this.#report.problem(
        'too-many-voices',
        'More than 64 voices are more than a page can hold.',
        { line, column },
      );
      return;
    }
    const announced = this.#settings.size > 0 || this.#staves !== null;
    if (!known && inBody && announced && this.#music && !this.#staves?.has(id)) {
      this.#report.warn(
        'voice-unannounced',
        `The voice ${quoted(id)} was not announced at the head.`,
        { line, column },
      );
    }
    this.#settings.set(id, settings);
    if (!inBody) return;
    this.#voice = this.#readerOf(settings);
  }

  #readerOf(settings: VoiceSettings): VoiceReader {
    const before = this.#voices.get(settings.id);
    if (before) return before;
    const key = this.#key ?? {
      tonic: null,
      mode: null,
      signature: 0,
      odd: [],
      settings: [],
      unknown: [],
    };
    const own = withSettings(settings, key.settings, settings.line, this.#report);
    const start = {
      key,
      meter: this.#meter ?? { beats: null, unit: 4 },
      unit: this.#unit,
      known: this.#known,
    };
    const reader = new VoiceReader(own, start, this.#report);
    this.#voices.set(settings.id, reader);
    return reader;
  }

  /** The voice that music without a `V:` belongs to. */
  #current(line: number): VoiceReader {
    this.#voice ??= this.#readerOf({ id: '1', name: '1', clef: null, octaves: 0, line });
    return this.#voice;
  }

  #musicLine(line: Extract<Line, { kind: 'music' }>): void {
    const report = this.#report;
    if (!this.#key) {
      report.warn(
        'text-in-header',
        `The line ${quoted(line.text)} stands before the K: line and is left out.`,
        { line: line.number },
      );
      return;
    }
    if (this.#blankAt > 0) {
      if (!/\||\[V:/.test(line.text)) {
        report.warn(
          'text-outside',
          `The line ${quoted(line.text)} stands behind an empty line, which ends a tune; it is left out.`,
          { line: line.number },
        );
        return;
      }
      report.warn(
        'blank-line-inside',
        'An empty line ends a tune, but its music goes on; it is read on.',
        { line: this.#blankAt },
      );
      this.#blankAt = 0;
    }
    this.#facts.comment(line.comment, true);
    this.#lastWords = null;
    this.#music = true;
    const tokens = tokensOf(line.text, line.number, report, this.#symbols);
    let started: VoiceReader | null = null;
    for (const token of tokens) {
      if (token.kind === 'inline') {
        this.#inline(token.letter, token.value, line.number, token.column);
        continue;
      }
      if (token.kind === 'space' && started === null) continue;
      const voice = this.#current(line.number);
      if (voice !== started) voice.startLine(line.number, this.#goesOn);
      started = voice;
      voice.take(token, line.number);
    }
    this.#goesOn = /\\\s*$/.test(line.text);
    // A line's end is a space to whatever follows.
    started?.take({ kind: 'space', column: line.text.length + 1 }, line.number);
  }

  #inline(letter: string, value: string, line: number, column: number): void {
    if ('KMLQV'.includes(letter)) this.#setting(letter, value, line, column, true);
    else if (letter === 'P') this.#part(value, line, column);
    else if (letter === 'N' || letter === 'R') this.#facts.add(letter, value);
    else if (letter === 'r') this.#facts.add('r', value);
    else if (letter === 'U')
      this.#symbol({ number: line, kind: 'field', letter, value, column, comment: '' });
    else
      this.#report.warn(
        'field-unknown',
        `The field ${letter}: ${quoted(value)} inside the music is left out.`,
        { line, column },
      );
  }
}
