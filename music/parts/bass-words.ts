import { neckPlaceOf, sayNeckPlace } from '../hand/bass-places.ts';
import { HAND_CAUTIONS, LOUDNESS } from '../hand/cautions.ts';
import { intervalBetween, sayMove } from '../pitch/interval.ts';
import { degreeOf, sayNote } from '../pitch/key.ts';
import { midiOf, noteOf, type PitchName } from '../pitch/pitch.ts';
import { counted, listed } from '../score/number-words.ts';
import type { Score, Section, Ticks } from '../score/score.ts';
import { barAt, feltBeat, melodyOf, meterAt, placeOf } from '../score/time.ts';
import { sayBeats } from '../voice/say-beats.ts';
import { FELT_BEAT } from '../voice/sung.ts';
import type { HeldBass } from './bass-notes.ts';
import { neighboursOf } from './changes.ts';
import { sayIntroduced } from './directions.ts';
import { sayLoop } from './loop-words.ts';
import { INTRODUCTION, sayIntroductionBars } from './introduction.ts';
import type { LaidOut } from './laid-out.ts';
import type { PartDirection } from './part.ts';
import { IN_SHORT, namePasses, sayTexture } from './textures.ts';
import type { WrittenOut } from './written-out.ts';

type Strings = 4 | 5;

/** More notes than this are not all placed in words: the line at the foot is short. */
const MOST_NAMES = 8;
/** More leaps than this are no longer a place to begin. */
const MOST_LEAPS = 2;

/** `G (E string, fret 3)`. */
function sayPlaced(pitch: PitchName, strings: Strings): string {
  const place = neckPlaceOf(pitch, strings);
  return sayNote(noteOf(pitch)) + (place ? ` (${sayNeckPlace(place)})` : '');
}

/**
 * What there is to find, and that it is enough: `four notes, written an octave above their sound: G (E string, fret 3),
 * C (A string, fret 3) …; roots alone, one note at a time: all of it enough for Sunday`.
 */
export function sumUpBass(score: Score, held: readonly HeldBass[], strings: Strings): string {
  const places = new Map<number, PitchName>();
  for (const { pitch } of held) if (!places.has(midiOf(pitch))) places.set(midiOf(pitch), pitch);
  const key = score.keys[0]?.key;
  const notes = [...places.values()];
  const plain = (pitch: PitchName): boolean => {
    const { degree, alter } = key ? degreeOf(key, noteOf(pitch)) : { degree: 0, alter: 0 };
    return [1, 4, 5].includes(degree) && alter === 0;
  };
  const first = notes.length > MOST_NAMES ? notes.filter(plain) : notes;
  const others = notes
    .filter((pitch) => !first.includes(pitch))
    .map((pitch) => sayNote(noteOf(pitch)));
  const more = others.length > 0 ? `, and ${listed(others)}` : '';
  const total = counted(notes.length, 'note', 'notes');
  const names = first.map((pitch) => sayPlaced(pitch, strings)).join(', ') + more;
  const slash = held.some(({ entry }) => entry.chord.bass !== null);
  const what = slash ? 'roots and written slash basses' : 'roots alone';
  return `${total}, written an octave above their sound: ${names}; ${what}, one note at a time: all of it enough for Sunday`;
}

/** When to begin, on which note, and when the singers come. */
export function sayBassStart(
  { song, introduction, whole, count }: LaidOut,
  held: readonly HeldBass[],
  strings: Strings,
): string {
  const [first] = held;
  const where = sayIntroductionBars(song, introduction);
  if (!first) return where;
  const note = sayPlaced(first.pitch, strings);
  if (introduction.spans.length > 0) {
    const begin = `come in on its first chord with ${note}`;
    return [where, begin, count.entry].filter((words) => words !== '').join('; ');
  }
  const { bar, beat } = placeOf(whole, first.from);
  const sung = melodyOf(song).notes.find(({ pitches }) => pitches.length > 0);
  const alone = sung && sung.at < first.from ? 'the singers begin alone; ' : '';
  return `${where}; ${alone}come in on beat ${beat} of bar ${bar} with ${note}`;
}

/**
 * Beside each section: where the introduction is taken from, how the notes are struck where that is new, and the passes
 * that are played otherwise than they are written.
 */
export function bassDirections(
  { song, introduction }: LaidOut,
  written: WrittenOut,
): PartDirection[] {
  const { score, textures, others } = written;
  let said = '';
  return score.sections.map((section: Section) => {
    const how = sayTexture(score, section, textures.get(section.id) ?? 'held');
    const lines: string[] = [];
    if (section.id === INTRODUCTION) lines.push(sayIntroduced(song, introduction));
    if (section.kind === 'vamp') lines.push(sayLoop(score, section));
    if (how !== said) lines.push(how);
    said = how;
    for (const { texture, passes } of others.get(section.id) ?? []) {
      lines.push(`${namePasses(passes).toLocaleLowerCase()}: ${IN_SHORT[texture]}`);
      said = '';
    }
    return { section: section.id, words: lines };
  });
}

interface Leap {
  readonly before: HeldBass;
  readonly after: HeldBass;
  readonly time: Ticks;
  readonly far: number;
}

/** The widest ways on the neck, each pair of notes once with its least time: the widest, then the quickest, then the first. */
function leaps(score: Score, held: readonly HeldBass[]): Leap[] {
  const found = new Map<string, Leap>();
  const start = score.sections.find(({ id }) => id === INTRODUCTION)?.to ?? 0;
  for (const pair of neighboursOf(score, held)) {
    // The introduction repeats what comes in the song: the place to practise is there.
    if (pair.after.from < start) continue;
    const [from, to] = [midiOf(pair.before.pitch), midiOf(pair.after.pitch)];
    const known = found.get(`${from} ${to}`);
    if (from === to || (known && known.time <= pair.time)) continue;
    found.set(`${from} ${to}`, { ...pair, far: Math.abs(to - from) });
  }
  return [...found.values()].sort(
    (a, b) => b.far - a.far || a.time - b.time || a.after.from - b.after.from,
  );
}

/** What to practise first: `Practise first: into bar 3, G (E string, fret 3) up a fifth to D (open D string), after two beats. …`. */
export function practiceBass(score: Score, held: readonly HeldBass[], strings: Strings): string[] {
  return leaps(score, held)
    .slice(0, MOST_LEAPS)
    .map(({ before, after, time }, place) => {
      const felt = (time / feltBeat(meterAt(score, before.from))) * FELT_BEAT;
      const way = sayMove(intervalBetween(before.pitch, after.pitch));
      const leap = `${sayPlaced(before.pitch, strings)} ${way} to ${sayPlaced(after.pitch, strings)} in ${sayBar(score, after.from)}, after ${sayBeats(felt)}.`;
      return place === 0
        ? `Practise first: ${leap} Back and forth between the two until the hand knows the way.`
        : `Then: ${leap}`;
    });
}

function sayBar(score: Score, at: Ticks): string {
  const { number } = barAt(score, at);
  return number === 0 ? 'the pickup' : `bar ${number}`;
}

/** For hands and ears. */
export const BASS_CAUTIONS: readonly string[] = [
  ...HAND_CAUTIONS.filter(({ id }) => id === 'pain').map(({ text }) => text),
  LOUDNESS.text,
];
