import type { RankedMove } from '../../hand/difficulty.ts';
import { midiOf } from '../../pitch/pitch.ts';
import { says as saysIn } from '../../pitch/says.ts';
import type { Ticks } from '../../score/score.ts';
import { barAt } from '../../score/time.ts';
import { counted, listed, numberWord } from '../../score/number-words.ts';
import type { Texture } from '../arrangement.ts';
import type { Change } from '../changes.ts';
import { practice } from '../practice-words.ts';
import { instead, sayMoving, sayShapes } from '../summary-words.ts';
import type { KeysSong } from './keys-song.ts';
import { EASY, of, type PartDifficultyItem, type PlayedPart } from './part-difficulty.ts';
import { strikesOf } from './part-difficulty-strikes.ts';

/** How chords are played in a texture, after `the chords`. */
const PLAYED: Readonly<Record<Texture, string>> = {
  held: 'held',
  answered: 'answered by one soft note',
  leading: 'leading into the next bar',
  'every beat': 'on every beat',
  swaying: 'after the bass',
  broken: 'broken',
};

const OCTAVE = 12;

/**
 * What the first rung is made of, and how far it is enough: `four shapes: F, B♭, C, Dm; at most two notes move at once;
 * all of it enough for Sunday`; else what asks most, and what to do instead that is still right. How hard that is depends
 * on what its player has met, so a sheet does not say it.
 */
export const sumUpFirstRung = (part: PlayedPart, changes: readonly Change[]): string =>
  [
    sayShapes(part.score, part.shapes, saysIn(part.names)),
    sayMoving(changes),
    sayEase(part, changes),
  ]
    .filter((each) => each !== '')
    .join('; ');

/**
 * What a part above the first rung is made of, and how far it is enough: `five shapes: F, B♭, C, Dm, Gm; at most two notes
 * move at once; the chords held and on every beat; octaves in turn in the left hand; what asks most: bar 3, from Dm to C in
 * one beat; if it comes too fast, hold Dm on in bar 3: still right`. The last follows `PartDifficulty.of` for somebody of
 * whom it is not known what they have met.
 */
export function sumUpKeys(part: PlayedPart, song: KeysSong, changes: readonly Change[]): string {
  return [
    sayShapesOf(part),
    sayMoving(changes),
    sayTextures(song),
    sayOctaves(part),
    sayEase(part, changes),
  ]
    .filter((each) => each !== '')
    .join('; ');
}

/** More than these are not all named: the line at the foot is short. */
const MOST_NAMES = 8;

/** Where a chord has more shapes than one, `twelve shapes of seven chords: G, C, D7 …`, each chord named once. */
function sayShapesOf({ score, shapes, names: called }: PlayedPart): string {
  const says = saysIn(called);
  const names = [...new Set(shapes.map(({ chord }) => says.chord(chord)))];
  const count = new Set(shapes.map(({ notes }) => notes.map(midiOf).join(' '))).size;
  if (count <= names.length) return sayShapes(score, shapes, says);
  const more = names.length - MOST_NAMES;
  const named = `${names.slice(0, MOST_NAMES).join(', ')}${more > 0 ? ` and ${numberWord(more)} more` : ''}`;
  const chords = counted(names.length, 'chord', 'chords');
  return `${counted(count, 'shape', 'shapes')} of ${chords}: ${named}`;
}

/** In the order they first come. */
function sayTextures({ score, rungsAt, textureAt }: KeysSong): string {
  const textures = score.sections.map(({ from }) =>
    rungsAt(from).right === 1 ? 'held' : textureAt(from),
  );
  return `the chords ${listed([...new Set(textures)].map((each) => PLAYED[each]))}`;
}

function sayOctaves(part: PlayedPart): string {
  const strikes = strikesOf(part, 'left').map(({ pitches }) => pitches.map(midiOf));
  const isOctave = ([low, high]: readonly number[]) =>
    low !== undefined && high !== undefined && Math.abs(high - low) === OCTAVE;
  const isTogether = strikes.some((keys) => keys.length === 2 && isOctave(keys));
  const isInTurn = strikes.some((keys, i) => {
    const next = strikes[i + 1] ?? [];
    return keys.length === 1 && next.length === 1 && isOctave([...keys, ...next]);
  });
  const ways = [...(isTogether ? ['together'] : []), ...(isInTurn ? ['in turn'] : [])];
  return ways.length === 0 ? '' : `octaves ${listed(ways)} in the left hand`;
}

function sayEase(part: PlayedPart, changes: readonly Change[]): string {
  const { word, items } = of(part);
  const [hardest] = items;
  if (word === 'easy') return 'all of it enough for Sunday';
  if (!hardest) return '';
  const other = insteadOf(part, hardest, changes);
  return `what asks most: ${hardest.brief}; if it comes too fast, ${other}: still right`;
}

/** What may be played in the place of what is hardest, and contradicts nothing (common practice; each is a lower rung). */
function insteadOf(
  part: PlayedPart,
  { what, at }: PartDifficultyItem,
  changes: readonly Change[],
): string {
  switch (what) {
    case 'right hand': {
      const change = changes.find(({ after }) => after.from === at);
      return change
        ? instead(part.score, change, saysIn(part.names))
        : 'leave the new chord to the left hand';
    }
    case 'left hand': {
      const there = strikesOf(part, 'left').find((strike) => strike.at === at);
      return there && there.pitches.length > 1
        ? 'hold the low note of each chord alone'
        : 'leave that note out, as the right hand has the chord';
    }
    case 'octaves in turn':
      return 'hold the low note of each chord alone';
    case 'strikes':
      return strikesAgain(part, at)
        ? 'strike each chord once and hold it'
        : 'leave every second chord to the left hand';
    case 'new shapes':
      throw new RangeError('a sheet does not know which shapes are new');
  }
}

/** Whether a chord of the right hand is struck more than once in the bar at a place. */
function strikesAgain(part: PlayedPart, at: Ticks): boolean {
  const bar = barAt(part.score, at);
  const here = strikesOf(part, 'right').filter(
    (strike) => strike.at >= bar.at && strike.at < bar.at + bar.length,
  );
  return here.some(({ pitches }, i) => i > 0 && pitches.join() === here[i - 1]?.pitches.join());
}

/** What to practise first: the hardest changes, then what else is not easy in the left hand. */
export function practiceKeys(part: PlayedPart, hardest: readonly RankedMove[]): string[] {
  const { items } = of(part);
  const left = items.flatMap(({ what, words, cost }) => {
    if (cost <= EASY) return [];
    if (what === 'left hand')
      return [`Then the left hand alone: ${words.replace(/^left hand /, '')}.`];
    return what === 'octaves in turn' ? [`Then the octaves alone, slowly: ${words}.`] : [];
  });
  return [...practice(asSummedUp(part, items, hardest)), ...left];
}

/** Of changes that are equally hard, the one that the summary names stands first. */
function asSummedUp(
  { score }: PlayedPart,
  items: readonly PartDifficultyItem[],
  hardest: readonly RankedMove[],
): readonly RankedMove[] {
  const named = items.find(({ what }) => what === 'right hand');
  const same = hardest.find(
    ({ total, move, bars }) =>
      named !== undefined &&
      total === hardest[0]?.total &&
      named.words.startsWith(`${move.fromChord} to ${move.toChord} in `) &&
      bars.includes(barAt(score, named.at).number),
  );
  return same ? [same, ...hardest.filter((each) => each !== same)] : hardest;
}
