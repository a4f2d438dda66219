import { ENGLISH, type Says } from '../../pitch/says.ts';
import type { Section } from '../../score/score.ts';
import { sayIntroduced } from '../directions.ts';
import { INTRODUCTION } from '../form/introduction.ts';
import { besideLinkIn, type LaidOut } from '../laid-out.ts';
import { sayLoop } from '../form/loop-words.ts';
import type { PartDirection } from '../part.ts';
import type { Rungs } from '../rungs.ts';
import { sayEnding } from '../form/endings.ts';
import { sayOthersAt } from '../form/others-words.ts';
import { IN_SHORT, sayTexture } from '../form/textures.ts';
import type { WrittenOut } from '../form/written-out.ts';
import type { HandLine } from './hand-line.ts';
import { isCalm } from './in-texture.ts';
import type { KeysSong } from './keys-song.ts';
import { sayLeft } from './left-words.ts';

const RIGHT: Readonly<Record<Rungs['right'], string>> = {
  1: '',
  2: '',
  3: 'right hand: the tune on top, and carried where the chord has it',
  4: 'right hand: full chords, the tune on top and carried',
};
/** Broken chords go on as they are. */
const RIGHT_BROKEN: typeof RIGHT = {
  ...RIGHT,
  3: 'right hand: the tune on top where the chord has it',
  4: 'right hand: full chords, the tune on top',
};

const PULSE =
  'softly again on each beat: the note of the chord that carries the tune, for the singers';

/**
 * Beside each section, each line where it is new: how the notes are struck, what the hands do on their rungs, what was
 * done otherwise and why, and the passes that are played otherwise than they are written.
 * @param hands right and left
 */
export function keysDirections(
  { song, introduction, whole, link }: LaidOut,
  written: WrittenOut,
  keys: KeysSong,
  hands: readonly HandLine[],
  says: Says = ENGLISH,
): PartDirection[] {
  const { score, textures, endings } = written;
  const [, left] = hands;
  let before: readonly string[] = [];
  return score.sections.map((section: Section): PartDirection => {
    const rungs = keys.rungsAt(section.from);
    const lasting = [
      sayTexture(score, section, textures.get(section.id) ?? 'held'),
      (keys.textureAt(section.from) === 'broken' ? RIGHT_BROKEN : RIGHT)[rungs.right],
      rungs.pulse && isCalm(keys.textureAt(section.from)) ? PULSE : '',
      left ? sayLeft(keys, left, section) : '',
    ].filter((line) => line !== '');
    const here = hands.flatMap(({ remarks }) =>
      remarks.filter(({ at }) => at >= section.from && at < section.to).map(({ words }) => words),
    );
    const other = sayOthersAt(whole, written, section, IN_SHORT);
    const ending = endings.get(section.id);
    const lines = [
      ...(section.id === INTRODUCTION ? [sayIntroduced(song, introduction)] : []),
      ...besideLinkIn({ link, whole: score }, section),
      sayLoop(score, section, says),
      ...lasting.filter((line) => !before.includes(line)),
      ...here,
      ending ? sayEnding(score, ending) : '',
      ...other,
    ].filter((line) => line !== '');
    before = other.length > 0 ? [] : lasting;
    return { section: section.id, words: [...new Set(lines)] };
  });
}
