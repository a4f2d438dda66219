import type { Shape } from '../../hand/shape.ts';
import { sameChord, say as sayChord } from '../../pitch/chord-symbol.ts';
import type { Chord } from '../../pitch/chord.ts';
import { says as saysIn } from '../../pitch/says.ts';
import { success, type Result } from '../../result.ts';
import type { Score, Voice } from '../../score/score.ts';
import { melodyOf } from '../../score/time.ts';
import type { Arrangement, Player, Team } from '../arrangement.ts';
import { changesOf } from '../changes.ts';
import { planHands, type HandsPlan, type HeldChord } from '../hands-plan.ts';
import { keysBeginner, movesOf, shapesOf } from '../keys-beginner.ts';
import { layOut } from '../laid-out.ts';
import type { Part } from '../part.ts';
import { cautions, sayIntroduction } from '../part-words.ts';
import { hardestFirst } from '../practice-words.ts';
import { densityFor } from '../rung-density.ts';
import { rungsFor, type Rungs } from '../rungs.ts';
import { writtenOut } from '../form/written-out.ts';
import type { HandLine } from './hand-line.ts';
import { cappedForm } from './capped-form.ts';
import { withFills } from './fills.ts';
import { withHandEndings, withoutFills } from './hand-endings.ts';
import { keysDirections } from './keys-directions.ts';
import { keysSong, type KeysSong } from './keys-song.ts';
import { practiceKeys, sumUpKeys } from './keys-summary.ts';
import { leftHand } from './left-hand.ts';
import { inStruckTime } from './part-difficulty-strikes.ts';
import { withPedal } from './pedal.ts';
import { rightHand } from './right-hand.ts';
import { withFingers } from './with-fingers.ts';

/** What somebody plays all through a song, and whether a section of it is played otherwise. */
export function rungsOf({ level, rungs }: Pick<Player, 'level' | 'rungs'>): Rungs {
  const { sections: _, ...whole } = rungs ?? {};
  return { ...rungsFor(level), ...whole };
}

/** Of the hands and the texture, without a pulse; the pedal is set on top of it. */
function isFirstRung(player: Player): boolean {
  const steps = [rungsOf(player), ...Object.values(player.rungs?.sections ?? {})];
  return steps.every(
    ({ right = 1, left = 1, texture = 1, pulse = false }) =>
      right === 1 && left === 1 && texture === 1 && !pulse,
  );
}

/** A settled plan holds each chord in one shape, wherever it comes. */
function shapeOf({ held }: HandsPlan, chord: Chord): Shape {
  const found = held.find((each) => sameChord(each.chord, chord));
  if (!found) throw new RangeError(`no shape for ${sayChord(chord)}`);
  return found.right;
}

/** The held chords of a plan, cut where the chords of the song are, with what each hand holds there now. */
function heldIn(song: KeysSong, right: HandLine, left: HandLine): HeldChord[] {
  return song.chords.flatMap((entry, i): HeldChord[] => {
    const [above, below] = [right.held[i], left.held[i]];
    if (!above || !below) return [];
    const { at, length, chord } = entry;
    return [{ from: at, to: at + length, chord, right: above, left: below, entry }];
  });
}

function voices(score: Score, right: HandLine, left: HandLine): Voice[] {
  const keyboard = { group: 'Keyboard' } as const;
  return [
    { ...melodyOf(score), id: 'melody', name: 'Singer', group: 'Singer', staff: 1 },
    { ...keyboard, id: 'right', name: 'Right hand', staff: 2, clef: 'treble', notes: right.notes },
    { ...keyboard, id: 'left', name: 'Left hand', staff: 3, clef: 'bass', notes: left.notes },
  ];
}

/**
 * What a keyboard player plays at their own steps of each ladder, section by section (see `Rungs`). All steps share the
 * chords and, on the first two rungs of the right hand, the shapes, so that players of different steps agree bar by bar.
 * Each section stands once or twice, by the ways in which this player plays it (`writtenOut`). The first steps of all ladders together are
 * `keysBeginner`, on one page without copies, and with the pedal if it is asked for.
 */
export function keysPart(
  score: Score,
  arrangement: Arrangement,
  player: Player,
  team: Team,
): Result<Part> {
  const usual = rungsOf(player);
  if (isFirstRung(player)) {
    const built = keysBeginner(score, arrangement, player, team);
    return built.ok ? { ...built, value: withPedal(built.value, usual, player.rungs) } : built;
  }
  const form = cappedForm(arrangement.form ?? null, usual, player.rungs);
  const density = densityFor(arrangement.density, player);
  const laidOut = layOut(score, { ...arrangement, form }, saysIn(player.names), density);
  if (!laidOut.ok) return laidOut;
  const { song, introduction, whole, length, count } = laidOut.value;
  const written = writtenOut(whole);
  // On the song before it is written out: the shapes are those that the first rung holds.
  const plan = planHands(whole, player);
  if (!plan.ok) return plan;
  const read = keysSong(written, player, team, usual, player.rungs);
  if (!read.ok) return read;
  const keys = read.value;
  const settled = keys.chords.map(({ chord }) => shapeOf(plan, chord));
  const above = rightHand(keys, settled);
  const below = leftHand(keys, above.held);
  if ('ok' in below) return below;
  const fingered = withFingers(keys, {
    right: withHandEndings(keys, above),
    left: withHandEndings(keys, below),
  });
  const { left } = fingered;
  // A fill goes from one shape to the next, so it comes when their fingers are known.
  const right = withFills(withoutFills(keys), fingered.right);
  const now: HandsPlan = { ...plan, held: heldIn(keys, right, left) };
  const says = saysIn(player.names);
  const shapes = shapesOf(now, says);
  const changes = inStruckTime(changesOf(written.score, now), right.notes);
  const hardest = hardestFirst(written.score, changes, length, says);
  const played = {
    ...(player.names ? { names: player.names } : {}),
    score: {
      ...written.score,
      melody: 'melody',
      voices: voices(written.score, right, left),
      chords: now.held.map(({ entry }) => entry),
    },
    shapes,
    moves: movesOf(written.score, changes, shapes),
  };
  const part: Part = {
    role: 'keys',
    level: player.level,
    rungs: usual,
    ...played,
    directions: keysDirections(laidOut.value, written, keys, [right, left], says),
    countIn: count.words,
    summary: sumUpKeys(played, keys, changes),
    order: laidOut.value.order,
    introduction: sayIntroduction(song, now, introduction, count.entry, length, says),
    practice: practiceKeys(played, hardest),
    cautions: cautions(written.score, now, says),
  };
  return success(withPedal(part, usual, player.rungs), [
    ...plan.warnings,
    ...right.warnings,
    ...left.warnings,
  ]);
}
