import type { Shape } from '../../hand/shape.ts';
import type { HandLine } from './hand-line.ts';
import { inTexture } from './in-texture.ts';
import type { KeysSong } from './keys-song.ts';

/**
 * What the right hand plays: on its first rung the nearest shapes held, on the second the same shapes in the texture of the
 * pass.
 * @param settled one shape for each chord of the song, as the first rung holds them
 */
export function rightHand(song: KeysSong, settled: readonly Shape[]): HandLine {
  const textureAt = (at: number) => (song.rungsAt(at).right === 1 ? 'held' : song.textureAt(at));
  return {
    notes: inTexture(song, { hand: 'right', held: settled, textureAt }),
    held: settled,
    remarks: [],
    warnings: [],
  };
}
