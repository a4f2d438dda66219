import { passesOf, unfold, type NamedPass, type Stretch } from './form.ts';
import type { ChordAt, Note, Score, Section, Syllable, Ticks } from './score.ts';
import { melodyOf } from './time.ts';
import { lineStarts } from './verse-text.ts';

/** A syllable, or a chord on a held note or a rest, in the order of its time. */
export interface SungPiece {
  readonly at: Ticks;
  /** Index into `score.bars`. */
  readonly bar: number;
  /** Empty: no syllable begins here. */
  readonly text: string;
  /** The word goes on in the next piece. */
  readonly goesOn: boolean;
  /** Index into `score.chords`; null: the chord before goes on. */
  readonly chord: number | null;
}

export interface SungPass extends NamedPass {
  /** Lines of the poem; where nothing is sung, lines of up to four bars. */
  readonly lines: readonly (readonly SungPiece[])[];
  /** The words are known, but not to which notes they are sung: no chord stands over them. */
  readonly isText: boolean;
}

/** Bars that a line of chords without words holds (common practice of lead sheets). */
const BARS_A_LINE = 4;

/** What is sung and played in every pass of the form, in order, with repeats and endings written out. */
export function sungPasses(score: Score): SungPass[] {
  const stretches = new Map<number, Stretch[]>();
  for (const stretch of unfold(score)) {
    stretches.set(stretch.index, [...(stretches.get(stretch.index) ?? []), stretch]);
  }
  return passesOf(score).map((named, index): SungPass => {
    const verse = verseIn(score, named);
    const printed = verse.lines?.map((text): SungPiece[] => [
      { at: named.section.from, bar: 0, text, goesOn: false, chord: null },
    ]);
    if (printed) {
      // Nothing before them stands in this key: their chords are printed by themselves.
      const isNew = named.section.up && score.form.findIndex(({ section }) => section === named.section.id) === index; // prettier-ignore
      const chords = isNew ? linesOf(score, stretches.get(index) ?? [], null) : [];
      return { ...named, lines: [...chords, ...printed], isText: true };
    }
    return { ...named, lines: linesOf(score, stretches.get(index) ?? [], verse.index), isText: false }; // prettier-ignore
  });
}

const notesIn = (score: Score, { from, to }: Pick<Section, 'from' | 'to'>): readonly Note[] =>
  melodyOf(score).notes.filter(({ at }) => at >= from && at < to);

/**
 * Which verse's syllables a pass sings: its own, or where they do not stand under the notes of this section those of the
 * first verse that has some there (a refrain, written once). Null: none; `lines`: they are only known as text.
 */
function verseIn(
  score: Score,
  { pass, section }: NamedPass,
): { index: number | null; lines?: readonly string[] } {
  const inside = notesIn(score, section);
  const has = (index: number): boolean => inside.some(({ syllables }) => syllables?.[index]);
  const own = score.verses.findIndex(({ number }) => number === pass.verse);
  if (own >= 0 && has(own)) return { index: own };
  const lines = score.verses[own]?.lines;
  if (lines && lines.length > 0) return { index: null, lines };
  const first = score.verses.findIndex((_, index) => has(index));
  return { index: first < 0 ? null : first };
}

function linesOf(score: Score, stretches: readonly Stretch[], verse: number | null): SungPiece[][] {
  const events = stretches.flatMap((stretch, i) =>
    eventsIn(score, stretch, verse, stretches[i - 1]?.to === stretch.from),
  );
  return events.some(({ syllable }) => syllable) ? ofWords(score, events) : ofBars(events);
}

interface Event {
  readonly at: Ticks;
  readonly bar: number;
  readonly syllable: Syllable | null;
  readonly chord: number | null;
  /** The chord that sounds there, whether it begins or goes on. */
  readonly sounding: number | null;
  /** A jump leads here. */
  readonly jump: boolean;
}

/** What begins in a stretch, in order: syllables and chords, both where they begin together. */
function eventsIn(score: Score, span: Stretch, verse: number | null, goesOn: boolean): Event[] {
  const chords = new Map<Ticks, number>();
  score.chords.forEach(({ at, length }: ChordAt, i) => {
    if (at >= span.from && at < span.to) chords.set(at, i);
    else if (!goesOn && at < span.from && at + length > span.from && !chords.has(span.from))
      chords.set(span.from, i);
  });
  const syllables = new Map<Ticks, Syllable>();
  for (const note of notesIn(score, span)) {
    const syllable = verse === null ? null : note.syllables?.[verse];
    if (syllable) syllables.set(note.at, syllable);
  }
  const bars = score.bars.flatMap(({ at }, i) => (at >= span.from && at < span.to ? [i] : []));
  const starts = bars.map((i) => score.bars[i]?.at ?? 0);
  const times = [...new Set([span.from, ...chords.keys(), ...syllables.keys(), ...starts])].sort(
    (a, b) => a - b,
  );
  let place = 0;
  let sounding: number | null = null;
  return times.map((at, i): Event => {
    while ((starts[place + 1] ?? Infinity) <= at) place += 1;
    const chord = chords.get(at) ?? null;
    sounding = chord ?? sounding;
    return {
      at,
      bar: bars[place] ?? 0,
      syllable: syllables.get(at) ?? null,
      chord,
      sounding,
      jump: i === 0 && !goesOn,
    };
  });
}

function ofWords(score: Score, events: readonly Event[]): SungPiece[][] {
  const lines: SungPiece[][] = [];
  let words = '';
  let joined = false;
  const starts = lineStarts(score);
  const begin = (): SungPiece[] => {
    const line: SungPiece[] = [];
    lines.push(line);
    words = '';
    return line;
  };
  let line = begin();
  for (const { at, bar, syllable, chord, jump } of events) {
    if (jump && words !== '' && !joined) line = begin();
    if (!syllable && chord === null) continue;
    const isOwnLine = score.untimed && line.length > 0 && line[0]?.bar !== bar;
    if (!syllable) {
      if (isOwnLine) line = begin();
      line.push({ at, bar, text: '', goesOn: words !== '' && joined, chord });
      continue;
    }
    const { text } = syllable;
    if (isOwnLine || (words !== '' && !joined && starts.has(at))) line = begin();
    line.push({ at, bar, text, goesOn: syllable.hyphen === true, chord });
    words += (words !== '' && !joined ? ' ' : '') + text;
    joined = syllable.hyphen === true;
  }
  return lines.filter((each) => each.length > 0);
}

/** Chords alone, four bars a line; a bar in which none begins shows the one that goes on. */
function ofBars(events: readonly Event[]): SungPiece[][] {
  const lines: SungPiece[][] = [];
  let line: SungPiece[] = [];
  let bars = 0;
  let last: number | null = null;
  for (const event of events) {
    const isNew = event.bar !== last || event.jump;
    last = event.bar;
    const chord = event.chord ?? (isNew ? event.sounding : null);
    if (chord === null) continue;
    if (isNew && bars === BARS_A_LINE) [line, bars] = [[], 0];
    if (isNew) bars += 1;
    if (line.length === 0) lines.push(line);
    line.push({ at: event.at, bar: event.bar, text: '', goesOn: false, chord });
  }
  return lines;
}
