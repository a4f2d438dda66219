import type { ArrangedPass } from '../arrangement.ts';
import { rungsIn, type OwnRungs, type Rungs } from '../rungs.ts';
import { notFuller } from './keys-song.ts';

/**
 * The passes as one player plays them: none fuller than their rung of the textures, held where their right hand holds.
 * Passes that come out alike stand on the page once.
 */
export function cappedForm(
  form: readonly ArrangedPass[] | null,
  usual: Rungs,
  own: OwnRungs | undefined,
): readonly ArrangedPass[] | null {
  return (
    form?.map((pass) => {
      const { right, texture } = rungsIn(usual, own, pass.section);
      return { ...pass, texture: notFuller(pass.texture ?? 'held', right === 1 ? 1 : texture) };
    }) ?? null
  );
}
