import { write as writeChord } from '../../pitch/chord-symbol.ts';
import type { Bar, Score, Ticks, Voice } from '../../score/score.ts';
import { endOf } from '../../score/time.ts';
import { writeMeter } from './fields.ts';
import { escaped } from './text.ts';
import { headLines, keyText, reduced, writeTempo } from './write-head.ts';
import { NoteWriter, piecesOf, tupletSigns, type Piece } from './write-notes.ts';
import { printedLines, textLines, wordLines } from './write-words.ts';
import { QUARTER } from '../../score/score.ts';

const BARS_IN_A_LINE = 4;

/** A chord symbol, a section, a change of tempo or an end of the introduction: text that stands at a moment. */
interface Mark {
  readonly at: Ticks;
  readonly text: string;
}

/** The score as an ABC 2.1 tune; see `write` in the door for what it cannot hold. */
export function writeTune(score: Score): string {
  const { bars, voices } = score;
  let lines = headLines(score);
  const pieces = voices.map((voice) => piecesOf(voice, bars));
  const { inVoices, over } = placed(score, pieces);
  const writers = voices.map(
    (voice, i) => new VoiceWriter(score, voice, pieces[i] ?? [], inVoices[i] ?? []),
  );
  const labelled = new Set<number>();
  const melody = voices.findIndex((voice) => voice.id === score.melody);
  for (let from = 0; from < bars.length; from += BARS_IN_A_LINE) {
    const to = Math.min(bars.length, from + BARS_IN_A_LINE);
    for (const [i, writer] of writers.entries()) {
      const row: string[] = [];
      for (let bar = from; bar < to; bar += 1) row.push(writer.bar(bar, i === melody ? over : []));
      lines.push(`[V:${voices[i]?.id ?? ''}] ${row.join(' ')}`);
      const music = (pieces[i] ?? []).slice(from, to).flat();
      lines.push(...wordLines(music, score, labelled));
    }
  }
  lines = lines.concat(score.untimed ? textLines(score) : printedLines(score.verses));
  return `${lines.join('\n')}\n`;
}

/** Gives every mark to a voice that begins a note at its moment, the melody first; the others lie over the melody. */
function placed(
  score: Score,
  pieces: readonly (readonly (readonly Piece[])[])[],
): { inVoices: Mark[][]; over: Mark[] } {
  const end = endOf(score);
  const starts = pieces.map((rows) => new Set(rows.flat().map(({ at }) => at)));
  const melody = Math.max(
    0,
    score.voices.findIndex((voice) => voice.id === score.melody),
  );
  const order = [melody, ...score.voices.keys()];
  const inVoices: Mark[][] = score.voices.map(() => []);
  const over: Mark[] = [];
  for (const mark of marksOf(score)) {
    const voice = mark.at === end ? melody : order.find((i) => starts[i]?.has(mark.at));
    if (voice === undefined) over.push(mark);
    else inVoices[voice]?.push(mark);
  }
  return { inVoices, over };
}

function marksOf(score: Score): Mark[] {
  const marks: (Mark & { rank: number })[] = [];
  for (const { from, to } of score.introduction) {
    marks.push({ at: to, text: '!eintro!', rank: 0 }, { at: from, text: '!sintro!', rank: 1 });
  }
  for (const { from, name } of score.sections) {
    marks.push({ at: from, text: `[P:${escaped(name).replaceAll(']', '\\u005d')}]`, rank: 2 });
  }
  for (const { at, tempo } of score.tempoChanges ?? []) {
    marks.push({ at, text: `[Q:${writeTempo(tempo)}]`, rank: 2 });
  }
  for (const { at, chord } of score.chords) {
    marks.push({ at, text: `"${chord ? writeChord(chord) : 'N.C.'}"`, rank: 3 });
  }
  return marks.sort((a, b) => a.at - b.at || a.rank - b.rank);
}

/** One voice, written bar by bar in order. */
class VoiceWriter {
  readonly #score: Score;
  readonly #pieces: readonly (readonly Piece[])[];
  readonly #marks: readonly Mark[];
  readonly #notes: NoteWriter;
  #mark = 0;
  #key = 1;
  #meter = 1;

  constructor(
    score: Score,
    voice: Voice,
    pieces: readonly (readonly Piece[])[],
    marks: readonly Mark[],
  ) {
    this.#score = score;
    this.#pieces = pieces;
    this.#marks = marks;
    this.#notes = new NoteWriter(score.keys[0]?.signature ?? 0, voice.clef.endsWith('-8') ? 1 : 0);
  }

  bar(index: number, over: readonly Mark[]): string {
    const { bars } = this.#score;
    const bar = bars[index];
    if (!bar) return '';
    const notes = this.#pieces[index] ?? [];
    this.#notes.newBar();
    const parts: string[] = [];
    if (index === 0 && bar.repeatStart) parts.push('|:');
    const ending = endingSign(bar, bars[index - 1]);
    if (ending !== '') parts.push(ending);
    let music = '';
    const tuplets = tupletSigns(notes);
    for (const [i, note] of notes.entries()) {
      const fields = this.#changes(note.at);
      music += fields + this.#notes.note(note, tuplets[i] ?? '', this.#marksUpTo(note.at));
      if (!(note.beam && i < notes.length - 1 && !note.goesOn)) music += ' ';
    }
    parts.push(music.trimEnd());
    const end = bar.at + bar.length;
    const own = over.filter((mark) => mark.at >= bar.at && mark.at < end);
    if (own.length > 0) parts.push(overlay(own, bar.at, end));
    if (index === bars.length - 1) parts.push(this.#marksUpTo(end));
    parts.push(barSign(bar, bars[index + 1]));
    return parts.filter((part) => part !== '').join(' ');
  }

  /** Marks that are due; those of other voices' moments never come here. */
  #marksUpTo(at: Ticks): string {
    let text = '';
    for (
      let mark = this.#marks[this.#mark];
      mark && mark.at <= at;
      mark = this.#marks[this.#mark]
    ) {
      text += mark.text;
      this.#mark += 1;
    }
    return text;
  }

  #changes(at: Ticks): string {
    const { keys, meters } = this.#score;
    let text = '';
    for (let meter = meters[this.#meter]; meter && meter.at <= at; meter = meters[this.#meter]) {
      if (meter.at === at) text += `[M:${writeMeter(meter.meter)}]`;
      this.#meter += 1;
    }
    for (let key = keys[this.#key]; key && key.at <= at; key = keys[this.#key]) {
      if (key.at === at) {
        text += `[K:${keyText(this.#score, this.#key)}]`;
        this.#notes.setSignature(key.signature);
      }
      this.#key += 1;
    }
    return text;
  }
}

/** Marks where no voice begins a note: over the bar, between rests that nobody sees. */
function overlay(marks: readonly Mark[], from: Ticks, to: Ticks): string {
  let text = '&';
  let at = from;
  const rest = (until: Ticks): string => {
    const [over, under] = reduced(until - at, QUARTER);
    at = until;
    return ` x${String(over)}/${String(under)}`;
  };
  for (const mark of marks) {
    if (mark.at > at) text += rest(mark.at);
    text += ` ${mark.text}`;
  }
  return text + rest(to);
}

function endingSign(bar: Bar, before: Bar | undefined): string {
  if (bar.endings.length === 0 || bar.endings.join() === before?.endings.join()) return '';
  return `[${bar.endings.join(',')}`;
}

function barSign(bar: Bar, next: Bar | undefined): string {
  const starts = next?.repeatStart ?? false;
  if (bar.repeatEnd) return starts ? '::' : ':|';
  if (starts && bar.line === 'single') return '|:';
  if (starts && bar.line === 'double') return '||:';
  const sign = { single: '|', double: '||', final: '|]', none: next ? '[|]' : '', dashed: '.|' }[
    bar.line
  ];
  return starts ? `${sign} |:` : sign;
}
