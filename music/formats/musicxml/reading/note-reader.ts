import { transposePitch, type Interval } from '../../../pitch/interval.ts';
import {
  LETTERS,
  parsePitch,
  pitchName,
  type Letter,
  type PitchName,
} from '../../../pitch/pitch.ts';
import { QUARTER, type Ticks } from '../../../score/score.ts';
import type { Report } from '../../report.ts';
import { SOFT } from '../../soft.ts';
import { HELD } from '../held.ts';
import { ticksOf } from '../note-value.ts';
import { signOf } from '../signs.ts';
import { LONGEST_NOTE } from './limits.ts';
import type { ReadLyric, ReadNote } from './read-note.ts';
import { child, childrenOf, numberIn, numberOf, textOf, type XmlNode } from './tree.ts';

/** Where a sentence about a note says that it stands: `Bar 5 of Alto`. */
export type Where = () => string;

/** `<pitch>` as it sounds; null where it is none (told). */
export function readPitch(
  node: XmlNode,
  transpose: Interval,
  where: Where,
  report: Report,
): PitchName | null {
  const step = textOf(node, 'step');
  const octave = numberOf(node, 'octave');
  const alter = numberIn(textOf(node, 'alter') || '0');
  const whole = alter === null ? 0 : Math.round(alter);
  const at = { line: node.line };
  const written = LETTERS.includes(step as Letter)
    ? parsePitch(pitchName(step as Letter, Math.abs(whole) > 3 ? 0 : whole, octave ?? NaN))
    : null;
  if (!written || alter === null || Math.abs(whole) > 3) {
    const words = `${where()} has a note whose pitch cannot be understood.`;
    report.problem('pitch-odd', words, at);
    return null;
  }
  if (whole !== alter) {
    const words = `${where()} has a note between two keys (${String(alter)} semitones); the nearest is taken.`;
    report.warn('quarter-tone', words, at);
  }
  return transposePitch(pitchName(written.letter, written.alter, written.octave), transpose);
}

/** A ratio of a tuplet; null where the note is in none. */
export function readTuplet(note: XmlNode): ReadNote['tuplet'] {
  const node = child(note, 'time-modification');
  const actual = node && numberOf(node, 'actual-notes');
  const normal = node && numberOf(node, 'normal-notes');
  if (!actual || !normal || actual < 1 || normal < 1 || actual === normal) return null;
  if (![actual, normal].every((each) => Number.isInteger(each) && each <= 64)) return null;
  return { actual, normal };
}

/**
 * How long a note is, in exact ticks. Files whose divisions are too coarse for their tuplets round; there what is
 * written (value, dots, tuplet) is believed, if it differs by no more than one division.
 */
export function readLength(
  note: XmlNode,
  divisions: number,
  where: Where,
  report: Report,
): Ticks | null {
  const duration = numberOf(note, 'duration');
  const at = { line: note.line };
  if (duration === null || duration <= 0) {
    const words = `${where()} has a note whose length cannot be understood.`;
    report.problem('duration-odd', words, at);
    return null;
  }
  const exact = (duration * QUARTER) / divisions;
  const longest = LONGEST_NOTE * 4 * QUARTER;
  if (!(exact <= longest)) {
    const words = `${where()} has a note longer than ${String(LONGEST_NOTE)} whole notes.`;
    report.problem('note-too-long', words, at);
    return null;
  }
  const nearest = Math.round(exact);
  if (Math.abs(exact - nearest) < 1e-6 && nearest > 0 && !child(note, 'time-modification')) {
    return nearest;
  }
  const plain = ticksOf(textOf(note, 'type'), childrenOf(note, 'dot').length);
  const tuplet = readTuplet(note);
  const written = plain === null ? null : (plain * (tuplet?.normal ?? 1)) / (tuplet?.actual ?? 1);
  if (
    written !== null &&
    Math.abs(written - exact) <= QUARTER / divisions &&
    Number.isInteger(written)
  ) {
    return written;
  }
  if (Math.abs(exact - nearest) < 1e-6 && nearest > 0) return nearest;
  const words = `${where()} has a length that is no whole part of a beat; it is rounded.`;
  report.warn('duration-rounded', words, at);
  return Math.max(1, nearest);
}

/** Whether the duration of a note is its value in quarter notes. */
export function isInQuarters(note: XmlNode): boolean {
  const written = ticksOf(textOf(note, 'type'), childrenOf(note, 'dot').length);
  const duration = numberOf(note, 'duration');
  return written !== null && duration !== null && duration * QUARTER === written;
}

/** What stands under a note; several texts of one syllable are joined as they are sung together. */
export function readLyrics(note: XmlNode): ReadLyric[] {
  return childrenOf(note, 'lyric').flatMap((lyric): ReadLyric[] => {
    let text = '';
    let syllabic = 'single';
    let joined = true;
    for (const { name, text: words } of lyric.children) {
      if (name === 'syllabic') syllabic = words.trim();
      else if (name === 'elision') joined = false;
      else if (name === 'text') {
        const trimmed = words.replace(/\s*\n\s*/g, ' ');
        text += `${joined ? '' : ' '}${trimmed}`;
        joined = true;
      }
    }
    if (text.trim() === '') return [];
    const { number, name } = lyric.attributes;
    const verse = number ?? name ?? '1';
    const chorus = /chorus|refrain/i.test(name ?? '') && !/^\d+$/.test(number ?? '');
    const hyphen = syllabic === 'begin' || syllabic === 'middle';
    return [{ verse: chorus ? '1' : verse, text, hyphen }];
  });
}

/** Groups of `<notations>` whose children are signs on one note. */
const SIGN_GROUPS = ['ornaments', 'articulations'];
/** What stands in them and is no sign of its own. */
const NO_SIGN = ['accidental-mark', 'wavy-line', 'other-ornament', 'other-articulation'];

/** Slurs, fermata, signs; `tied` and fingers are read with the pitch. */
export function readNotations(note: XmlNode, into: ReadNote): void {
  for (const notations of childrenOf(note, 'notations')) {
    for (const each of notations.children) {
      const { name, attributes } = each;
      const { type, number = '1' } = attributes;
      if (name === 'slur' && type === 'start') into.slurStarts.push(number);
      else if (name === 'slur' && type === 'stop') into.slurStops.push(number);
      else if (name === 'fermata') into.fermata = true;
      else if (name === 'other-notation') addSign(into, each.text.trim());
      else if (name === 'arpeggiate') addSign(into, 'arpeggio');
      else if (SIGN_GROUPS.includes(name)) {
        for (const sign of each.children) {
          addSign(into, NO_SIGN.includes(sign.name) ? sign.text.trim() : signOf(sign.name));
        }
      }
    }
  }
}

function addSign(into: ReadNote, sign: string): void {
  if (sign !== '') into.signs.push(sign);
}

/** The first finger that is written, 1–5. */
export function readFinger(note: XmlNode): number | null {
  for (const notations of childrenOf(note, 'notations')) {
    for (const technical of childrenOf(notations, 'technical')) {
      const finger = numberOf(technical, 'fingering');
      if (finger !== null && Number.isInteger(finger) && finger >= 1 && finger <= 5) return finger;
    }
  }
  return null;
}

/** Whether a note is held on, by `tie` (the sound) or `tied` (the sign). */
export function isTied(note: XmlNode): boolean {
  const starts = ({ attributes }: XmlNode): boolean => attributes['type'] === 'start';
  return (
    childrenOf(note, 'tie').some(starts) ||
    childrenOf(note, 'notations').some((notations) => childrenOf(notations, 'tied').some(starts))
  );
}

/** Beamed with the next note. */
export function isBeamed(note: XmlNode): boolean {
  return childrenOf(note, 'beam').some(
    ({ attributes, text }) =>
      (attributes['number'] ?? '1') === '1' && /^\s*(begin|continue)\s*$/.test(text),
  );
}

/** A note or rest as far as it is more than its pitches, its words and its graces. */
export function newNote(
  node: XmlNode,
  place: Pick<ReadNote, 'measure' | 'at' | 'length'>,
): ReadNote {
  const staff = numberOf(node, 'staff') ?? 1;
  const hidden = child(node, 'rest') && node.attributes['print-object'] === 'no';
  const note: ReadNote = {
    ...place,
    voice: textOf(node, 'voice') || '1',
    staff: Number.isInteger(staff) && staff >= 1 && staff <= 16 ? staff : 1,
    line: node.line,
    pitches: [],
    lyrics: [],
    slurStarts: [],
    slurStops: [],
    grace: [],
    signs: [],
    fermata: false,
    beam: isBeamed(node),
    tuplet: readTuplet(node),
    hidden: hidden === true,
    soft: node.attributes['dynamics'] === String(SOFT.percent),
    wholeMeasure: false,
    goesOn: node.attributes['id']?.startsWith(`${HELD}-`) ?? false,
    above: [],
    pedal: null,
  };
  readNotations(node, note);
  return note;
}
