import { plan } from '../../hand/left-hand.ts';
import type { Shape } from '../../hand/shape.ts';
import type { Failure } from '../../result.ts';
import type { HandLine } from './hand-line.ts';
import { inTexture } from './in-texture.ts';
import type { KeysSong } from './keys-song.ts';

/**
 * What the left hand plays: on its first rung the root of each chord in one place; where the right hand sways, the left is
 * its bass and strikes with it.
 * @param right what the right hand holds under each chord: the left stays below
 */
export function leftHand(song: KeysSong, right: readonly Shape[]): HandLine | Failure {
  const chords = song.chords.map(({ chord }) => chord);
  const planned = plan(chords, { right: right.map(({ notes }) => notes) });
  if (!planned.ok) return planned;
  const held = planned.notes.map((notes, i): Shape => ({
    notes,
    fingers: planned.fingers[i] ?? [],
  }));
  const textureAt = (at: number) => (song.rungsAt(at).right === 1 ? 'held' : song.textureAt(at));
  return {
    notes: inTexture(song, { hand: 'left', held, textureAt }),
    held,
    remarks: [],
    warnings: [],
  };
}
