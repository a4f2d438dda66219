import type { Bar, Note, Ticks } from '../score/score.ts';

/** How the body plays, as a teacher would say it at the keyboard. Common practice; each line can be hidden. */
export interface TechniqueRubric {
  readonly id: 'arm' | 'foot';
  readonly text: string;
}

/**
 * Common practice of piano teaching, as beginners are told it; no line of it is a measurement. Whoever hurts follows the
 * cautions and their teacher instead.
 */
const RUBRICS: Readonly<Record<TechniqueRubric['id'], string>> = {
  arm: 'the chord is struck again and again: the arm goes behind the weak fingers, 4 and 5, and lets go after each stroke',
  foot: 'the heel stays on the floor and the foot on the right pedal, from the first change to the last',
};

/** The weak fingers. */
const WEAK = [4, 5];
/** A chord: as many notes at once, at least. */
const NOTES = 3;

/** What the lines are chosen by. */
export interface PlayedByHands {
  readonly bars: readonly Bar[];
  /** Of the right hand, in order; fingers low to high, where the hand changes. */
  readonly right: readonly Note[];
  readonly hasPedal: boolean;
  /** The felt beat at a place. */
  readonly beatAt: (at: Ticks) => Ticks;
}

const topIsWeak = ({ fingers }: Note): boolean => WEAK.includes(fingers?.at(-1) ?? 0);

/**
 * Whether a chord with a weak finger on top is struck again within a felt beat, inside a bar: so it is on every beat,
 * and in three where bass and chord sway; what is only struck anew at a bar line is held.
 */
function isStruckAgain({ bars, right, beatAt }: PlayedByHands): boolean {
  let before: Note | null = null;
  let weak = false;
  const inOneBar = (from: Ticks, to: Ticks): boolean =>
    bars.some(({ at, length }) => from >= at && to < at + length);
  for (const note of right) {
    const isChord = note.pitches.length >= NOTES;
    const isAgain = before !== null && before.pitches.join() === note.pitches.join();
    if (isChord && note.fingers) weak = topIsWeak(note);
    else if (!isAgain) weak = false;
    if (isChord && weak && isAgain && before) {
      const near = note.at - before.at <= beatAt(before.at);
      if (near && inOneBar(before.at, note.at)) return true;
    }
    before = note.pitches.length > 0 ? note : before;
  }
  return false;
}

/** The lines that hold for a part, in the order in which the hand and then the foot are told. */
export function rubricsFor(played: PlayedByHands): TechniqueRubric[] {
  const ids: TechniqueRubric['id'][] = [
    ...(isStruckAgain(played) ? (['arm'] as const) : []),
    ...(played.hasPedal ? (['foot'] as const) : []),
  ];
  return ids.map((id) => ({ id, text: RUBRICS[id] }));
}
