import { plan } from '../../hand/right-hand.ts';
import { tonesInHand } from '../../hand/chord-in-hand.ts';
import { REGISTER, type RightHandOptions } from '../../hand/right-hand-options.ts';
import type { Shape } from '../../hand/shape.ts';
import { midiOf, pitchClassOf, type PitchName } from '../../pitch/pitch.ts';
import type { Failure } from '../../result.ts';
import type { Ticks } from '../../score/score.ts';
import { notesWithin } from '../notes-left-out.ts';
import type { PlayedChord } from '../played-chords.ts';
import type { Rungs } from '../rungs.ts';
import type { HandLine } from './hand-line.ts';
import { inTexture, isCalm } from './in-texture.ts';
import type { KeysSong } from './keys-song.ts';
import { carriedIn } from './right-carried.ts';
import { withoutTheTune } from './right-remarks.ts';
import { sungAt } from './right-tune.ts';
import { leastMotion } from './right-voiced-line.ts';
import { voicingsOf } from './right-voicings.ts';
import { withTuneCarried } from './tune-carried.ts';

/**
 * What the right hand plays on its rung: 1 the nearest shapes, held; 2 the same shapes in the texture of the pass; 3
 * shapes turned so that what is sung as a chord begins lies on top, where the chord has it, and the tune carried on from
 * there (`withTuneCarried`); 4 the same top with fuller
 * shapes below, open ones while the texture is calm; `withFills` puts a few notes where a phrase ends. The bars in which no
 * note of the chord is sung as it begins are named.
 * @param settled one shape for each chord of the song, as the first rung holds them
 */
export function rightHand(song: KeysSong, settled: readonly Shape[]): HandLine | Failure {
  const held = shapesHeld(song, settled);
  if ('ok' in held) return held;
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
function shapesHeld(song: KeysSong, settled: readonly Shape[]): readonly Shape[] | Failure {
  const { chords, rungsAt } = song;
  const shapes: Shape[] = [];
  let from = 0;
  for (let to = 1; to <= chords.length; to += 1) {
    const rung = rungsAt(chords[from]?.at ?? 0).right;
    const next = chords[to];
    if (next && sameShapes(rungsAt(next.at).right, rung)) continue;
    const here = chords.slice(from, to);
    const found =
      rung < 3
        ? settled.slice(from, to)
        : rung === 3
          ? tuneOnTop(song, here)
          : leastMotion(here.map((chord) => voiced(song, chord)));
    if ('ok' in found) return found;
    shapes.push(...found);
    from = to;
  }
  return shapes;
}

const sameShapes = (a: Rungs['right'], b: Rungs['right']): boolean => a === b || (a < 3 && b < 3);

/**
 * Three notes, four where only then the sung one is among them; fewer where the hand is too small. First the sung note on
 * top, at its own pitch before another octave, then fingers kept, then motion (`RightHand.plan`).
 */
function tuneOnTop(
  { score, player }: KeysSong,
  chords: readonly PlayedChord[],
): readonly Shape[] | Failure {
  const tune = chords.map(({ at }) => sungAt(score, at));
  const options = { reach: player.reach, register: REGISTER, goal: 'tune' } as const;
  const most = chords.map(({ chord }, i) => {
    const wanted = { ...options, most: mostFor(chord, tune[i] ?? null), tune: [] };
    return notesWithin(chord, wanted satisfies RightHandOptions);
  });
  const planned = plan(
    chords.map(({ chord }) => chord),
    { ...options, most, tune },
  );
  return planned.ok ? planned.shapes : planned;
}

function mostFor(chord: PlayedChord['chord'], sung: PitchName | null): number {
  if (sung === null) return 3;
  const has = (most: number) =>
    tonesInHand(chord, most).some((tone) => pitchClassOf(tone) === midiOf(sung) % 12);
  return !has(3) && has(4) ? 4 : 3;
}

function voiced({ score, player, textureAt }: KeysSong, { chord, at }: PlayedChord): Shape[] {
  return voicingsOf(chord, {
    voicing: isCalm(textureAt(at)) ? 'open' : 'full',
    sung: sungAt(score, at),
    reach: player.reach,
  });
}
