import { nameInterval } from '../pitch/interval.ts';
import { sayNote } from '../pitch/key.ts';
import { listed, numberWord } from '../score/number-words.ts';
import { QUARTER, type Tempo } from '../score/score.ts';
import type { Asked, Leap, LongestPhrase, LongNotes, NoteInVoice } from './fit-asked.ts';
import type { FitRow } from './fit-row.ts';
import type { Singer } from './range.ts';
import { sayBeats } from './say-beats.ts';

/** All that the sentences on what a tune asks are made of. */
export interface AskedTold extends Asked {
  readonly singer: Singer;
  readonly breathes: boolean;
  /** The tempo is a file’s, which nobody confirmed. */
  readonly isFile: boolean;
}

/** Long notes, leap and longest breath, a sentence each. */
export function sayDemands({ long, leap, phrase, singer, breathes, isFile }: AskedTold): string[] {
  return [sayLong(long, singer), sayLeap(leap), sayPhrase(phrase, breathes, isFile)];
}

/** `bar 7`, `the pickup`. */
export function sayBar(number: number): string {
  return number === 0 ? 'the pickup' : `bar ${number}`;
}

/** `bars 5–8`, `bar 5`, `the pickup to bar 4`. */
export function sayBars(from: number, to: number): string {
  if (from === to) return sayBar(from);
  return from === 0 ? `the pickup to bar ${to}` : `bars ${from}–${to}`;
}

const place = (note: NoteInVoice): string =>
  `${sayNote(note.pitch)} in ${sayBar(note.bar)}, ${sayBeats(note.felt)}`;

/** `Of the nine long notes (two beats or more) three lie within a half step of C5 or above it: the longest is …` */
function sayLong(long: LongNotes, { comfortable }: Singer): string {
  const { count, atTop, above, atBottom, below, longestHigh, longestLow } = long;
  if (count === 0) return 'No note is held for two beats or more.';
  if (!longestHigh && !longestLow) {
    return count === 1
      ? 'The one long note (two beats or more) keeps clear of both ends of the range.'
      : `Of the ${numberWord(count)} long notes (two beats or more) none lies at either end of the range.`;
  }
  const ends = [
    longestHigh && end(atTop, above, 'above', comfortable.high, longestHigh, count),
    longestLow && end(atBottom, below, 'below', comfortable.low, longestLow, count),
  ].filter((words) => words !== null);
  if (count === 1) return `The one long note (two beats or more) ${ends.join('; ')}.`;
  return `Of the ${numberWord(count)} long notes (two beats or more) ${ends.join('; ')}.`;
}

/** `three lie within a half step of C5 or above it: the longest is D5 in bar 7, five beats` */
function end(
  count: number,
  past: number,
  way: 'above' | 'below',
  limit: string,
  longest: NoteInVoice,
  all: number,
): string {
  const lies = count === 1 ? 'lies' : 'lie';
  const near = `within a half step of ${sayNote(limit)}${past > 0 ? ` or ${way} it` : ''}`;
  const where = past === count ? `${way} ${sayNote(limit)}` : near;
  const which = count === 1 ? '' : 'the longest is ';
  return `${all === 1 ? '' : `${numberWord(count)} `}${lies} ${where}: ${which}${place(longest)}`;
}

function sayLeap(leap: Leap | null): string {
  if (!leap) return 'The tune stays on one note.';
  const { from, to, interval, over } = leap;
  const name = nameInterval(interval);
  const way = interval.semitones > 0 ? 'up' : 'down';
  const into = from.bar === to.bar ? `in ${sayBar(to.bar)}` : `into ${sayBar(to.bar)}`;
  const after = over ? `, after a ${over}` : '';
  return `The biggest leap is ${/^[aeio]/.test(name) ? 'an' : 'a'} ${name} ${way}, ${sayNote(from.pitch)} to ${sayNote(to.pitch)}, ${into}${after}.`;
}

function sayPhrase(phrase: LongestPhrase, breathes: boolean, isFile: boolean): string {
  const bars = sayBars(phrase.fromBar, phrase.toBar);
  const held = phrase.fermata ? ', its fermata not counted' : '';
  const opening = breathes
    ? `The longest breath: ${bars}`
    : `No rest and no breath is marked: ${bars} in one go`;
  const { seconds, tempo } = phrase;
  if (seconds === null) return `${opening}, ${sayBeats(phrase.felt)}${held}; no tempo is known.`;
  const at = tempo ? ` at ${sayTempo(tempo)}` : '';
  const length = `${saySeconds(seconds)}${at}`;
  return isFile
    ? `${opening} (${length}, the tempo of the file${held}).`
    : `${opening}, ${length}${held}.`;
}

/** `7.8 seconds`, to the tenth. */
export function saySeconds(seconds: number): string {
  const tenths = Math.round(10 * seconds) / 10;
  return `${tenths} ${tenths === 1 ? 'second' : 'seconds'}`;
}

const NOTES: readonly (readonly [number, string])[] = [
  [QUARTER * 4, 'whole'],
  [QUARTER * 2, 'half'],
  [QUARTER, 'quarter'],
  [QUARTER / 2, 'eighth'],
  [QUARTER / 4, 'sixteenth'],
];

/** `quarter = 76`, `dotted quarter = 50`; whatever has no such name in quarters. */
function sayTempo({ beat, perMinute }: Tempo): string {
  for (const [ticks, note] of NOTES) {
    if (beat === ticks) return `${note} = ${Math.round(perMinute)}`;
    if (beat === ticks * 1.5) return `dotted ${note} = ${Math.round(perMinute)}`;
  }
  return `quarter = ${Math.round((perMinute * beat) / QUARTER)}`;
}

/** `Tomas sings an octave below.`, `Tomas sings the refrain an octave below.`; empty where nothing is. */
export function sayOctaves(row: Pick<FitRow, 'name' | 'perSection'>): string {
  const below = row.perSection.filter(({ octave }) => octave === 'octave below');
  if (below.length === 0) return '';
  const where =
    below.length === row.perSection.length
      ? ''
      : ` ${listed(below.map(({ name }) => `the ${name.toLowerCase()}`))}`;
  const who = row.name.charAt(0).toUpperCase() + row.name.slice(1);
  return `${who} sings${where} an octave below.`;
}
