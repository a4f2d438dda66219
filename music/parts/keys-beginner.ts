import { success, type Result } from '../result.ts';
import { ofMove } from '../hand/difficulty.ts';
import { isSameShape, sayFrom, sayStart } from '../hand/move-words.ts';
import { sameChord } from '../pitch/chord-symbol.ts';
import { ENGLISH, says as saysIn, type Says } from '../pitch/says.ts';
import type { Score, Voice } from '../score/score.ts';
import { feltBeat, melodyOf, meterAt, tempoAt } from '../score/time.ts';
import type { Arrangement, Player, Team } from './arrangement.ts';
import { sayForTheBass } from './bar-list.ts';
import { changesOf, type Change } from './changes.ts';
import { practiceKeys, sumUpFirstRung } from './keys/keys-summary.ts';
import { directions } from './directions.ts';
import type { HandRemark } from './keys/hand-line.ts';
import { planHands, type HandsPlan, type HeldChord } from './hands-plan.ts';
import { heldNotes } from './held-notes.ts';
import { layOut } from './laid-out.ts';
import type { Part, PartMove, PartShape } from './part.ts';
import { hardestFirst } from './practice-words.ts';
import { cautions, sayIntroduction } from './part-words.ts';

const isShapeOf = (held: HeldChord) => (shape: PartShape) =>
  sameChord(shape.chord, held.chord) && isSameShape(shape, held.right);

/** The shapes in the order they first appear, each with the way to it. */
export function shapesOf(plan: HandsPlan, says: Says = ENGLISH): PartShape[] {
  const shapes: PartShape[] = [];
  plan.held.forEach((held, i) => {
    if (shapes.some(isShapeOf(held))) return;
    const before = plan.held[i - 1];
    const words = before
      ? sayFrom(says.chord(before.chord), before.right, held.right, says)
      : sayStart(held.right, says);
    shapes.push({ chord: held.chord, at: held.from, ...held.right, left: held.left, words });
  });
  return shapes;
}

export function movesOf(
  score: Score,
  changes: readonly Change[],
  shapes: readonly PartShape[],
): PartMove[] {
  return changes.flatMap(({ before, after, move, time }) => {
    const tempo = tempoAt(score, before.from);
    const beat = tempo?.beat ?? feltBeat(meterAt(score, before.from));
    const from = shapes.findIndex(isShapeOf(before));
    const to = shapes.findIndex(isShapeOf(after));
    if (from === to) return [];
    const beats = time / beat;
    return [
      {
        at: after.from,
        from,
        to,
        words: move.words,
        motion: move.motion,
        difficulty: ofMove(before.right, after.right, beats, tempo).total,
      },
    ];
  });
}

function voicesOf(score: Score, plan: HandsPlan): Voice[] {
  const melody = melodyOf(score);
  const hand = (which: 'right' | 'left') =>
    heldNotes(
      score.bars,
      plan.held.map((held) => ({ from: held.from, to: held.to, shape: held[which] })),
    );
  return [
    { ...melody, id: 'melody', name: 'Singer', group: 'Singer', staff: 1, clef: melody.clef },
    {
      id: 'right',
      name: 'Right hand',
      group: 'Keyboard',
      staff: 2,
      clef: 'treble',
      notes: hand('right'),
    },
    {
      id: 'left',
      name: 'Left hand',
      group: 'Keyboard',
      staff: 3,
      clef: 'bass',
      notes: hand('left'),
    },
  ];
}

/** What a bass player of this week changes under the left hand, in words; null: nothing. */
function forTheBass(
  whole: Score,
  player: Player,
  plan: HandsPlan,
  hasBass: boolean,
): HandRemark | null {
  const alone = hasBass ? planHands(whole, player) : plan;
  if (!alone.ok) return null;
  const others = plan.held.filter(({ left }, i) => {
    const without = alone.held[i]?.left.notes[0];
    return without !== undefined && left.notes[0] !== without;
  });
  const barsOf = (held: HandsPlan['held']) =>
    whole.bars.filter(({ at, length }) =>
      held.some(({ from, to }) => from < at + length && to > at),
    );
  const bars = barsOf(others);
  const [first] = bars;
  return first ? { at: first.at, words: sayForTheBass(whole, bars, barsOf(plan.held)) } : null;
}

/**
 * The first rung at the keys: the chords held, three notes in the right hand, one shape for each chord so that all
 * moves together are least; their roots (or the slash basses that a person wrote) in the left, struck at each change and at each bar line; the tune with its words above. The introduction is
 * written out before bar 1; the singers rest in it, and the hands rest in the singers' pickup unless somebody wrote a chord over it.
 */
export function keysBeginner(
  score: Score,
  arrangement: Arrangement,
  player: Player,
  { roles }: Team,
): Result<Part> {
  const laidOut = layOut(score, arrangement, saysIn(player.names));
  if (!laidOut.ok) return laidOut;
  const { song, introduction, whole, length, count } = laidOut.value;
  const hasBass = roles.includes('bass');
  const plan = planHands(whole, player, hasBass);
  if (!plan.ok) return plan;
  const says = saysIn(player.names);
  const shapes = shapesOf(plan, says);
  const changes = changesOf(whole, plan);
  const hardest = hardestFirst(whole, changes, length, says);
  const played = {
    ...(player.names ? { names: player.names } : {}),
    score: {
      ...whole,
      melody: 'melody',
      voices: voicesOf(whole, plan),
      chords: plan.held.map(({ entry }) => entry),
    },
    shapes,
    moves: movesOf(whole, changes, shapes),
  };
  const part: Part = {
    role: 'keys',
    level: 'beginner',
    ...played,
    directions: directions(
      song,
      whole,
      plan,
      introduction,
      forTheBass(whole, player, plan, hasBass),
      says,
      laidOut.value.link,
    ),
    countIn: count.words,
    summary: sumUpFirstRung(played, changes),
    order: laidOut.value.order,
    introduction: sayIntroduction(song, plan, introduction, count.entry, length, says),
    practice: practiceKeys(played, hardest),
    cautions: cautions(whole, plan, says),
  };
  return success(part, plan.warnings);
}
