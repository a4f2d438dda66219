import { ENGLISH, type Says } from '../pitch/says.ts';
import { roundPickups } from './pickup-chords.ts';
import type { Bar, Meter, Note, Score, Tempo, Ticks } from './score.ts';
import { barAt, barLength, countedBeat, melodyOf, meterAt, unitTicks } from './time.ts';

/** How a song is started together, from the first number that is spoken. */
export interface CountIn {
  /** As it stands on a sheet: `1 2 3 4 | 1 2 3 (sing)`. Where there is no meter, what is done instead. */
  readonly words: string;
  /** The numbers alone, one each `beat`: `['1','2','3','4','1','2','3']`. Empty where there is no meter. */
  readonly counts: readonly string[];
  /** Length of a counted beat. */
  readonly beat: Ticks;
  /** Where the singers enter, from the start of the count. */
  readonly enterAt: Ticks;
  /** Where the first chord falls, from the start of the count. */
  readonly firstChordAt: Ticks;
  /** The same for a person, with bar, beat, note and chord. */
  readonly sentence: string;
}

/**
 * One full bar is counted, and then the beats before the first sung note (common practice): with one beat of pickup in
 * 4/4, `1 2 3 4 | 1 2 3 (sing)`. The felt beat is counted (6/8 in two); a tempo that is given for the lower figure's
 * own note (an eighth in 6/8) counts that. A pickup that begins inside a beat is entered on the spoken division of the
 * beat: "and" for halves, "and", "a" for thirds, "e", "and", "a" for quarters. The first chord falls on beat one of
 * the first full bar, on the stressed word, or later where the song's first chord comes later; a chord that a person wrote
 * over the pickup falls there.
 */
export function of(score: Score, tempo: Tempo | null = score.tempo, says: Says = ENGLISH): CountIn {
  const entry = firstNote(score);
  const bar = barAt(score, entry.at);
  const meter = meterAt(score, bar.at);
  const full = barLength(meter);
  const beat = countedBeat(meter, tempo);
  const chordAt = firstChord(score, bar);
  if (full === null) return withoutMeter(score, entry, beat, chordAt, says);

  const missing = bar.number === 0 ? Math.max(0, full - bar.length) : 0;
  const inBar = missing + entry.at - bar.at;
  const bars = [range(full / beat)];
  if (inBar > 0) bars.push(range(Math.floor(inBar / beat) + (inBar % beat === 0 ? 0 : 1)));
  const division = divisionOf(inBar % beat, beat, meter);
  const cue = division === null ? '(sing)' : `(sing ${division.on})`;
  const spoken = bars.map((numbers) => numbers.join(' '));
  const last = spoken.length === 1 ? '| ' : '';
  const words = `${spoken.join(' | ')} ${division?.said ?? ''}${last}${cue}`;
  const enterAt = full + inBar;
  const firstChordAt = enterAt + chordAt - entry.at;
  const counts = bars.flat();
  return {
    words,
    counts,
    beat,
    enterAt,
    firstChordAt,
    sentence: [
      `Count ${spoken.join(' | ')}${speed(tempo, beat)}:`,
      `the singers enter on ${inCount(inBar, beat, meter).words} of ${barWords(bar)} with ${first(entry, says)},`,
      `and the first chord${chordName(score, chordAt, says)} falls ${chordPlace(score, chordAt, entry.at, beat)}.`,
    ].join(' '),
  };
}

function range(count: number): string[] {
  return Array.from({ length: Math.ceil(count) }, (_, i) => String(i + 1));
}

/** The first note that is sung; a score without any is taken to begin at its beginning. */
function firstNote(score: Score): Note {
  const sung = melodyOf(score).notes.find((note) => note.pitches.length > 0);
  return sung ?? { at: 0, length: 0, pitches: [] };
}

/** The pickup is sung alone unless somebody wrote a chord over it: beat one of the first full bar, or where a later first chord begins. */
function firstChord(score: Score, entry: Bar): Ticks {
  const sounding = roundPickups(score).filter(({ chord }) => chord !== null);
  const found = sounding.find(({ at, length }) => at + length > entry.at);
  if (found) return Math.max(found.at, entry.at);
  return entry.number === 0 ? entry.at + entry.length : entry.at;
}

interface Division {
  /** What is said between the last number and the entry, with a space after it. */
  readonly said: string;
  /** `on "and"`. */
  readonly on: string;
}

/** How a beat is divided aloud (common practice). */
const SPOKEN: Readonly<Record<2 | 3 | 4, readonly string[]>> = {
  2: ['and'],
  3: ['and', 'a'],
  4: ['e', 'and', 'a'],
};

function divisionOf(into: Ticks, beat: Ticks, meter: Meter): Division | null {
  if (into === 0) return null;
  const compound = beat !== unitTicks(meter.unit);
  for (const parts of compound ? ([3] as const) : ([2, 4, 3] as const)) {
    const part = (into * parts) / beat;
    if (!Number.isInteger(part)) continue;
    const before = SPOKEN[parts].slice(0, part - 1).join(' ');
    return { said: before === '' ? '' : `${before} `, on: `on "${SPOKEN[parts][part - 1] ?? ''}"` };
  }
  return { said: '', on: 'just after it' };
}

function speed(tempo: Tempo | null, beat: Ticks): string {
  if (!tempo) return '';
  const perMinute = Math.round((tempo.perMinute * tempo.beat) / beat);
  return ` at ${perMinute} beats a minute`;
}

/**
 * A place in a bar as it is counted aloud: what is spoken in the bar before it (`1 2`), and its name (`beat 3`,
 * `the "a" of beat 2`).
 * @param inBar from the start of the bar, as if it were full; `beat`: of the count
 */
export function inCount(
  inBar: Ticks,
  beat: Ticks,
  meter: Meter,
): { readonly spoken: string; readonly words: string } {
  const whole = Math.floor(inBar / beat);
  const division = divisionOf(inBar % beat, beat, meter);
  const spoken = [...range(whole + (division ? 1 : 0)), division?.said.trim() ?? ''];
  const inside = division ? `${division.on.replace(/^on /, 'the ')} of ` : '';
  return {
    spoken: spoken.filter((each) => each !== '').join(' '),
    words: `${inside.replace('just after it', 'a moment after')}beat ${whole + 1}`,
  };
}

function barWords(bar: Bar): string {
  return bar.number === 0 ? 'the bar before bar 1' : `bar ${bar.number}`;
}

function first(entry: Note, says: Says): string {
  const top = entry.pitches.at(-1);
  return top ? says.note(top) : 'the first word';
}

function chordName(score: Score, at: Ticks, says: Says): string {
  const found = score.chords.find((chord) => chord.at <= at && at < chord.at + chord.length);
  return found?.chord ? `, ${says.chord(found.chord)},` : '';
}

function chordPlace(score: Score, at: Ticks, entry: Ticks, beat: Ticks): string {
  const bar = barAt(score, at);
  const number = Math.floor((at - bar.at) / beat) + 1;
  const place = `on beat ${number} of bar ${bar.number}`;
  return at === entry ? 'with them' : place;
}

/** Without a meter nothing is counted: the keys give the note, the leader breathes, all begin (common practice). */
function withoutMeter(score: Score, entry: Note, beat: Ticks, chordAt: Ticks, says: Says): CountIn {
  const chord = chordName(score, chordAt, says).replaceAll(',', '').trim();
  const note = first(entry, says);
  const given = chord === '' ? note : `${chord}, with ${note} on top`;
  return {
    words: `keys hold ${chord === '' ? note : chord}, breathe together (sing)`,
    counts: [],
    beat,
    enterAt: 0,
    firstChordAt: chordAt - entry.at,
    sentence: `There is no meter, so nothing is counted: the keys hold ${given}, the leader breathes in, and all begin on ${note}.`,
  };
}
