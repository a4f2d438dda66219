import { positionsOf, fingerIn } from '../../hand/left-hand-position.ts';
import type { Shape } from '../../hand/shape.ts';
import { midiOf } from '../../pitch/pitch.ts';
import type { Failure } from '../../result.ts';
import type { Note } from '../../score/score.ts';
import { sayForTheBass } from '../bar-list.ts';
import type { HandLine, HandRemark } from './hand-line.ts';
import type { KeysSong } from './keys-song.ts';
import { inFigures } from './left-line.ts';
import { footings, shapeOf, type Footing } from './left-notes.ts';

/**
 * What the left hand plays on its rung: 1 the root of each chord in one place; 2 with its octave; 3 the two in turn; 4
 * root, fifth and octave with a step into the next chord. With a bass player it stays light, single notes above the bass:
 * roots held for their bar, on the fourth rung with the fifth above where the right hand leaves room; the bars in which that
 * changes what it plays are named.
 * @param right what the right hand holds under each chord: the left stays below
 */
export function leftHand(song: KeysSong, right: readonly Shape[]): HandLine | Failure {
  const hasBass = song.team.roles.includes('bass');
  const here = footings(song, right, hasBass);
  if ('ok' in here) return here;
  const notes = inFigures(song, here);
  const remarks = [...octavesOutOfReach(song)];
  if (hasBass) {
    const alone = footings(song, right, false);
    if (!('ok' in alone)) remarks.push(...forTheBass(song, notes, inFigures(song, alone)));
  }
  return { notes, held: heldShapes(here), remarks, warnings: [] };
}

function heldShapes(here: readonly Footing[]): Shape[] {
  const lows = here.map(({ low }) => low);
  const fingers = positionsOf(lows).flatMap((position) =>
    lows.slice(position.from, position.to + 1).map((note) => [fingerIn(position, note)]),
  );
  return here.map((footing, i) => shapeOf(footing, fingers[i] ?? [5]));
}

function octavesOutOfReach({ score, chords, rungsAt, player }: KeysSong): HandRemark[] {
  const first = chords.find(({ at }) => rungsAt(at).left > 1);
  if (!first || player.reach >= 12 || score.bars.length === 0) return [];
  const words = `an octave is wider than ${player.name}’s hand (${player.reach} half steps): the left hand plays single notes`;
  return [{ at: first.at, words }];
}

const sign = (notes: readonly Note[]): string =>
  notes.map(({ at, length, pitches }) => `${at} ${length} ${pitches.map(midiOf).join('.')}`).join();

function forTheBass(song: KeysSong, notes: readonly Note[], alone: readonly Note[]): HandRemark[] {
  const { bars } = song.score;
  const inBar = (all: readonly Note[], at: number, to: number) =>
    sign(all.filter((note) => note.at >= at && note.at < to));
  const changed = bars.filter(
    ({ at, length }) => inBar(notes, at, at + length) !== inBar(alone, at, at + length),
  );
  const [first] = changed;
  if (!first) return [];
  const played = bars.filter(({ at, length }) =>
    notes.some((note) => note.at >= at && note.at < at + length && note.pitches.length > 0),
  );
  return [{ at: first.at, words: sayForTheBass(song.score, changed, played) }];
}
