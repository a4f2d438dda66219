import { passesOf, type NamedPass } from '../../score/form.ts';
import type { Score } from '../../score/score.ts';
import { TEXTURES, type Ending, type Texture } from '../arrangement.ts';
import { stepOf } from './textures.ts';

/** The fullest that a proposal goes for verses: room is left for what comes after them. By place in `TEXTURES`, from 0. */
const FULLEST_VERSE = TEXTURES.indexOf('every beat');

const atStep = (step: number): Texture =>
  TEXTURES[Math.max(0, Math.min(TEXTURES.length - 1, Math.round(step)))] ?? 'held';

/**
 * How a song may build, pass by pass, as a proposal that a leader takes or changes. Common practice, the steps are ours: it
 * begins held; the verses grow evenly to every beat in the last one; what is sung after a verse (a refrain, chorus, bridge
 * or tag) is a step fuller than that verse; what opens or closes the song, and a loop under prayer or speech, is held. A
 * song of one verse and nothing else stays held.
 * @returns one texture a pass, in the order of the form
 */
export function propose(score: Score): Texture[] {
  const passes = passesOf(score);
  const verses = passes.filter(isVerse).length;
  let verse = 0;
  let step = 0;
  return passes.map((each): Texture => {
    if (isVerse(each)) {
      step = verses > 1 ? (FULLEST_VERSE * verse) / (verses - 1) : 0;
      verse += 1;
      return atStep(step);
    }
    switch (each.section.kind) {
      case 'intro':
      case 'ending':
      case 'vamp':
        return 'held';
      default:
        return atStep(Math.round(step) + 1);
    }
  });
}

/**
 * How a song may end, for the build that it has. Common practice, the rule is ours: where it ends with a verse, refrain
 * or chorus that no pass is fuller than, it has grown up to there, so it ends broadly; where its last pass is held after
 * fuller ones it has fallen back, so it ends quietly. Else it ends as it is played: null.
 * @param textures one a pass, in the order of the form
 */
export function proposeEnding(score: Score, textures: readonly Texture[]): Ending | null {
  const last = passesOf(score).at(-1);
  const steps = textures.map(stepOf);
  const [step, most] = [steps.at(-1) ?? 0, Math.max(...steps)];
  if (!last || most === 0) return null;
  if (step === 0) return 'quiet';
  const { kind } = last.section;
  const isSung = isVerse(last) || kind === 'refrain' || kind === 'chorus';
  return isSung && step === most ? 'broad' : null;
}

/** Without a section that is called a verse, what is sung to different words counts as one. */
const isVerse = ({ section, pass }: NamedPass): boolean =>
  section.kind === 'verse' || (section.kind === 'other' && pass.verse !== null);

/**
 * Passes with a hairpin drawn over some of them: from one pass as it is played to another that is played anew, in either
 * direction. One pass by itself is played anew.
 * @param textures as the passes are played now, in order
 * @param from index of the pass where the hairpin begins; `to`: where it ends, both in the list
 */
export function drawn(
  textures: readonly Texture[],
  { from, to, texture }: { readonly from: number; readonly to: number; readonly texture: Texture },
): Texture[] {
  const [first, last] = [Math.min(from, to), Math.max(from, to)];
  const fixed = textures[from] ?? 'held';
  const passes = last - first + 1;
  const line = from <= to ? hairpin(fixed, texture, passes) : hairpin(texture, fixed, passes);
  return textures.map((each, i) => line[i - first] ?? each);
}

/**
 * A hairpin: from one texture to another, as evenly as steps allow, over some passes in a row. Both ends are as they are
 * said; a single pass takes the second.
 */
export function hairpin(from: Texture, to: Texture, passes: number): Texture[] {
  const [first, last] = [TEXTURES.indexOf(from), TEXTURES.indexOf(to)];
  return Array.from({ length: passes }, (_, i) =>
    atStep(passes > 1 ? first + ((last - first) * i) / (passes - 1) : last),
  );
}
