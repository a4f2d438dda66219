import { ENGLISH, type Says } from '../../pitch/says.ts';
import { intervalBetween, sayMove } from '../../pitch/interval.ts';
import { midiOf } from '../../pitch/pitch.ts';
import { counted } from '../../score/number-words.ts';
import type { Bar, Score } from '../../score/score.ts';
import { barAt, melodyOf } from '../../score/time.ts';
import type { HarmonyCostKind, HarmonyLine, HarmonyNote } from '../../voice/harmony/line.ts';
import { sayBarList } from '../bar-list.ts';
import type { NoSecondVoice, SecondVoice } from './second-voice.ts';
import { sayWrittenVoices } from './written-voice.ts';

/** What is no third or sixth with the tune, and how it is said. */
const WITH_TUNE: readonly (readonly [HarmonyCostKind, string])[] = [
  ['unison', 'the tune’s own note'],
  ['octave', 'its octave'],
  ['fifth', 'a fifth'],
  ['fourth', 'a fourth'],
  ['tritone', 'a tritone'],
  ['passingSecond', 'a second in passing'],
  ['second', 'a second'],
  ['halfStep', 'a half step'],
];

/** Other things that a line pays for, in the order in which they are told. */
const BESIDES: readonly (readonly [HarmonyCostKind, string])[] = [
  ['crossing', 'notes on the other side of the tune'],
  ['foreign', 'notes outside the chord on a beat'],
  ['passing', 'notes outside the chord in passing'],
  ['parallel', 'fifths or octaves in a row with the tune'],
  ['hidden', 'leaps with the tune into a fifth or octave'],
  ['far', 'notes further than a tenth from the tune'],
  ['doubled', 'notes of another second voice'],
  ['clash', 'seconds or sevenths with another second voice'],
  ['parallelBeside', 'fifths or octaves in a row with another second voice'],
];

/** More bars than these are counted and not named. */
const MOST_BARS = 4;
/** A leap from this size on is worth practising: a fourth, in half steps. */
const LEAP = 5;
const MOST_LEAPS = 2;

/** `the written alto`, `made under the tune`: for the heading. */
export function nameSecondVoice({ written, made }: SecondVoice): string {
  if (written !== null) return `the written ${written}`;
  return `made ${made?.side === 'above' ? 'over' : 'under'} the tune`;
}

const has = (note: HarmonyNote, kind: HarmonyCostKind): boolean =>
  note.costs.some((each) => each.kind === kind);

/** Where notes of a kind stand: `bars 2 and 6`, `nine bars`. */
function sayWhere(song: Score, notes: readonly HarmonyNote[]): string {
  const bars = [...new Set(notes.map(({ at }): Bar => barAt(song, at)))];
  return bars.length > MOST_BARS ? counted(bars.length, 'bar', 'bars') : sayBarList(bars);
}

function sayKinds(
  song: Score,
  notes: readonly HarmonyNote[],
  kinds: readonly (readonly [HarmonyCostKind, string])[],
): string {
  return kinds
    .flatMap(([kind, words]) => {
      const own = notes.filter((note) => has(note, kind));
      return own.length > 0 ? [`${words} in ${sayWhere(song, own)}`] : [];
    })
    .join('; ');
}

/**
 * What the line is and what it pays for, item by item: `A second voice for Joel, made from the tune and its chords, under the
 * tune: a third or sixth from it for 84 % of the time. Otherwise: …`
 * @param lead who sings the tune an octave below what is written; null: it is heard as written
 */
function sayMade(song: Score, line: HarmonyLine, name: string, lead: string | null): string {
  const sung = line.notes.filter(({ isAlong }) => !isAlong);
  const sweet = sung.filter((note) => !WITH_TUNE.some(([kind]) => has(note, kind)));
  const time = (notes: readonly HarmonyNote[]) => notes.reduce((sum, each) => sum + each.length, 0);
  const share = Math.round((100 * time(sweet)) / Math.max(1, time(sung)));
  const heard = lead === null ? '' : ` as ${lead} sings it, an octave lower than written`;
  const where = `${line.side === 'above' ? 'over' : 'under'} the tune${heard}`;
  const first = `A second voice for ${name}, made from the tune and its chords, ${where}: a third or sixth from it for ${share} % of the time.`;
  const other = sayKinds(song, sung, WITH_TUNE);
  const besides = sayKinds(song, sung, BESIDES);
  return [
    first,
    other === '' ? '' : `Otherwise ${other}.`,
    besides === '' ? '' : `It has ${besides}.`,
  ]
    .filter((each) => each !== '')
    .join(' ');
}

/** What somebody sings, and why it is that. */
export function saySecondVoice(
  voice: SecondVoice,
  name: string,
  lead: string | null = null,
): string {
  const { written, made, song, sharedWith, isTuneLower } = voice;
  const shared = sharedWith === null ? '' : ` ${sharedWith} sings it too.`;
  const lower = isTuneLower ? (lead ?? 'whoever leads') : null;
  if (made) return `${sayMade(song, made, name, lower)}${shared}`;
  const side = lower === null ? '' : sideOf(voice);
  const of = side === '' ? 'of what is written under the tune' : 'of the written voices';
  const sounds =
    side === '' ? '' : ` It sounds ${side} the tune as ${lower} sings it, an octave lower than written.`; // prettier-ignore
  return `This is the written ${written ?? ''}: ${of} it lies best for ${name}.${sounds}${shared}`;
}

/**
 * On which side of a tune that is heard lower than it is written a voice lies: `above`, `mostly above`, `mostly under`;
 * empty: nowhere above it. Where both have one note, as in unison, they are on no side.
 */
function sideOf({ song, tune }: SecondVoice): string {
  let [above, under] = [0, 0];
  for (const note of melodyOf(song).notes) {
    const heard = tune.notes.find(({ at, length }) => at <= note.at && at + length > note.at);
    const [own, other] = [note.pitches.at(-1), heard?.pitches.at(-1)].map((each) => each && midiOf(each)); // prettier-ignore
    if (!own || !other || (own - other) % 12 === 0) continue;
    if (own > other) above += note.length;
    else under += note.length;
  }
  if (above === 0) return '';
  return under === 0 ? 'above' : above >= under ? 'mostly above' : 'mostly under';
}

/** The widest leaps of a line that was made, the widest first: `Practise bar 5: down a fifth, from D4 to G3.` */
export function practiceLine(
  { made, song }: SecondVoice,
  says: Says = ENGLISH,
  most = MOST_LEAPS,
): string[] {
  if (!made) return [];
  const leaps = made.notes.flatMap((note, i) => {
    const before = made.notes[i - 1];
    if (!before || note.isAlong || before.at + before.length !== note.at) return [];
    const size = Math.abs(midiOf(note.pitch) - midiOf(before.pitch));
    return size >= LEAP ? [{ before, note, size }] : [];
  });
  leaps.sort((a, b) => b.size - a.size || a.note.at - b.note.at);
  return leaps.slice(0, most).map(({ before, note }) => {
    const way = sayMove(intervalBetween(before.pitch, note.pitch));
    return `Practise ${sayBarList([barAt(song, note.at)])} by itself: ${way}, from ${says.note(before.pitch)} to ${says.note(note.pitch)}.`;
  });
}

/** Why a harmony voice has the tune. */
export function sayNoSecondVoice(
  song: Score,
  name: string,
  why: NoSecondVoice | 'nobody leads' | 'no-range',
): string {
  const tune = `this is the tune, for ${name} to sing along`;
  const written = sayWrittenVoices(song);
  if (why === 'nobody leads') return `Nobody leads, so the harmony voices carry the tune: ${tune}.`;
  // It says nothing of what is known: a page by link may be without a range that the team has.
  if (why === 'no-range') {
    return written === ''
      ? `Without a range for ${name} no line is made: ${tune}.`
      : `Without a range for ${name} none of the written ${written} is chosen: ${tune}.`;
  }
  if (why === 'no-chords')
    return `There is no harmony line here, as no chords are written to find one in: ${tune}.`;
  if (why === 'no-tune') return `There is no harmony line here: ${tune}.`;
  return `No line beside the tune sits in the voice of ${name} in this key: ${tune}.`;
}
