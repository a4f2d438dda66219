import type { Syllable } from '../../score/score.ts';
import { quoted, type Report } from '../report.ts';
import { plain } from './text.ts';
import type { Segment } from './marks.ts';
import type { VoiceReader } from './voice-reader.ts';

/** One step of a line of words: a syllable, a note it is held over or one without, or a jump to the next bar. */
type Step = Syllable | 'hold' | 'none' | 'bar';

/** ABC 2.1, section 5.1: `-` breaks a word, `_` holds, `*` is a note without words, `~` a space, `|` the next bar. */
export function stepsOf(text: string): Step[] {
  const steps: Step[] = [];
  let word = '';
  let has = false;
  const push = (hyphen: boolean): void => {
    if (has) {
      const syllable = plain(word);
      steps.push(hyphen ? { text: syllable, hyphen: true } : { text: syllable });
    }
    word = '';
    has = false;
  };
  for (let i = 0; i < text.length; i += 1) {
    const sign = text.charAt(i);
    const escape = /\\(?:-|u[0-9a-fA-F]{4}|.)/sy;
    escape.lastIndex = i;
    const found = sign === '\\' ? escape.exec(text) : null;
    if (found) {
      word += found[0] === '\\-' ? '-' : found[0];
      has = true;
      i += found[0].length - 1;
    } else if (sign === ' ' || sign === '\t') push(false);
    else if (sign === '-') {
      if (has) push(true);
      else steps.push('none');
    } else if (sign === '_' || sign === '*') {
      push(false);
      steps.push(sign === '_' ? 'hold' : 'none');
    } else if (sign === '|') {
      push(false);
      steps.push('bar');
    } else {
      word += sign === '~' ? ' ' : sign;
      has = true;
    }
  }
  push(false);
  return steps;
}

/** A verse's label before its first syllable (`1. A`), and the syllable without it. */
export function splitLabel(syllable: Syllable): { label: string; rest: Syllable } | null {
  const match = /^(\d{1,3}[.):]?|[A-Z]\.)[ \u00A0]+(\S.*)$/s.exec(syllable.text);
  if (!match) return null;
  return { label: match[1] ?? '', rest: { ...syllable, text: match[2] ?? '' } };
}

/** What the words under the notes say of the verses. */
export interface SungVerses {
  /** Label of each verse, where it has one. */
  readonly labels: readonly string[];
  /** Words that found no note, with where they stood; they are told, and kept with the facts of the song. */
  readonly homeless: readonly string[];
}

/** Lays every line of words under the notes of its line of music. */
export function alignWords(voices: readonly VoiceReader[], report: Report): SungVerses {
  const labels: string[] = [];
  const homeless: string[] = [];
  for (const voice of voices) {
    voice.segments.forEach((segment, i) => {
      const end = voice.segments[i + 1]?.from ?? voice.main.notes.length;
      segment.words.forEach((words, verse) => {
        labels[verse] ??= '';
        alignLine(voice, segment, end, verse, words, labels, homeless, report);
      });
    });
  }
  return { labels, homeless };
}

/** The syllable before a note is held over it; what ends its section says so, see `heldAtEnds`. */
function hold(notes: VoiceReader['main']['notes'], at: number, verse: number): void {
  const syllables = notes.findLast((note, i) => i < at && note.syllables[verse])?.syllables;
  const syllable = syllables?.[verse];
  if (syllables && syllable) syllables[verse] = { ...syllable, held: (syllable.held ?? 0) + 1 };
}

function alignLine(
  voice: VoiceReader,
  segment: Segment,
  end: number,
  verse: number,
  words: Segment['words'][number],
  labels: string[],
  homeless: string[],
  report: Report,
): void {
  const { notes } = voice.main;
  const place = { line: words.line, column: words.column };
  let next = segment.from;
  let first = true;
  const skipRests = (): void => {
    while (next < end && notes[next]?.pitches.length === 0) next += 1;
  };
  const over: string[] = [];
  let bar = voice.bars.findIndex((each) => each.at > (notes[segment.from]?.at ?? 0));
  for (const step of stepsOf(words.text)) {
    if (step === 'bar') {
      while (
        bar >= 0 &&
        bar < voice.bars.length - 1 &&
        (voice.bars[bar]?.at ?? 0) <= (notes[next - 1]?.at ?? -1)
      )
        bar += 1;
      const at = voice.bars[bar]?.at;
      if (at !== undefined) while (next < end && (notes[next]?.at ?? 0) < at) next += 1;
      bar += bar >= 0 ? 1 : 0;
      continue;
    }
    if (!words.onRests) skipRests();
    const note = next < end ? notes[next] : undefined;
    if (step === 'hold' || step === 'none') {
      // A note that a tie holds on is none of its own for the words.
      if (note && step === 'hold' && !notes[next - 1]?.tie) hold(notes, next, verse);
      next += 1;
      continue;
    }
    let syllable: Syllable = step;
    const label = first ? splitLabel(syllable) : null;
    first = false;
    if (label && (labels[verse] === '' || labels[verse] === label.label)) {
      labels[verse] = label.label;
      syllable = label.rest;
    }
    if (!note) {
      over.push(syllable.text);
      continue;
    }
    while (note.syllables.length < verse) note.syllables.push(null);
    note.syllables[verse] = syllable;
    next += 1;
  }
  if (over.length > 0) {
    const text = over.join(' ');
    homeless.push(text);
    const words1 = `${String(over.length)} syllables have no note: ${quoted(text)}. They are kept with the song's facts.`;
    report.warn('words-without-notes', words1, place);
  }
}
