import type { Shape } from '../../hand/shape.ts';
import type { Ticks } from '../../score/score.ts';
import type { PlayedChord } from '../played-chords.ts';
import { FIGURES, strikesInBar } from '../patterns.ts';
import type { Rungs } from '../rungs.ts';
import type { HandLine } from './hand-line.ts';
import { inTexture, isCalm } from './in-texture.ts';
import type { KeysSong } from './keys-song.ts';
import { carriedIn } from './right-carried.ts';
import { phraseStarts } from './right-phrases.ts';
import { withoutTheTune } from './right-remarks.ts';
import { sungAt } from './right-tune.ts';
import { leastMotion } from './right-voiced-line.ts';
import { voicingsOf } from './right-voicings.ts';
import { withTuneCarried } from './tune-carried.ts';

/**
 * What the right hand plays on its rung: 1 the nearest shapes, held; 2 the same shapes in the texture of the pass; 3
 * shapes turned so that what is sung as a chord begins lies on top, where the chord has it, each phrase in one octave of the
 * tune (`leastMotion`), and the tune carried on from there (`withTuneCarried`); 4 the same with fuller shapes below it;
 * `withFills` puts a few notes where a phrase ends. The bars in which no
 * note of the chord is sung as it begins are named.
 * @param settled one shape for each chord of the song, as the first rung holds them
 */
export function rightHand(song: KeysSong, settled: readonly Shape[]): HandLine {
  const held = shapesHeld(song, settled);
  const textureAt = (at: Ticks) => (song.rungsAt(at).right === 1 ? 'held' : song.textureAt(at));
  const struck = inTexture(song, {
    hand: 'right',
    held,
    textureAt,
    one: carriedIn(song, held),
    pulseAt: (at) => song.rungsAt(at).pulse === true,
  });
  const notes = withTuneCarried(song, held, struck);
  return { notes, held, remarks: withoutTheTune(song, held), warnings: [] };
}

/** The shapes of all chords, planned anew for each stretch on one rung. */
function shapesHeld(song: KeysSong, settled: readonly Shape[]): readonly Shape[] {
  const { chords, rungsAt } = song;
  const shapes: Shape[] = [];
  let from = 0;
  for (let to = 1; to <= chords.length; to += 1) {
    const rung = rungsAt(chords[from]?.at ?? 0).right;
    const next = chords[to];
    if (next && sameShapes(rungsAt(next.at).right, rung)) continue;
    const here = chords.slice(from, to);
    shapes.push(...(rung < 3 ? settled.slice(from, to) : tuneOnTop(song, here)));
    from = to;
  }
  return shapes;
}

const sameShapes = (a: Rungs['right'], b: Rungs['right']): boolean => a === b || (a < 3 && b < 3);

/** The tune on top, each phrase in one octave of it (`leastMotion`); the choices of each chord are whole by themselves. */
function tuneOnTop(song: KeysSong, chords: readonly PlayedChord[]): Shape[] {
  const { score, player, textureAt, rungsAt } = song;
  const starts = phraseStarts(score);
  const strikes = score.bars
    .flatMap((_, bar) => strikesInBar(score, bar, textureAt, FIGURES.right))
    .filter(({ touch }) => touch !== 'one');
  return leastMotion(
    chords.map(({ chord, at }, i) => {
      const sung = sungAt(score, at);
      const voicing = rungsAt(at).right === 3 ? 'closed' : isCalm(textureAt(at)) ? 'open' : 'full';
      // The chord before may be struck again before this one.
      const before = Math.max(
        chords[i - 1]?.at ?? 0,
        strikes.findLast((strike) => strike.at < at)?.at ?? 0,
      );
      return {
        shapes: voicingsOf(chord, { voicing, sung, reach: player.reach }),
        sung,
        phrase: starts.findLastIndex((start) => start <= at),
        begins: starts.some((start) => start > before && start <= at),
      };
    }),
  );
}
