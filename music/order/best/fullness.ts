import { passesOf } from '../../score/form.ts';
import { TEXTURES, type ArrangedPass } from '../../parts/arrangement.ts';
import type { SongToPlan } from './terms.ts';

/** How full a song is as it is arranged: the mean of its passes' textures, 0 held to 5 broken. */
export function fullnessOf({
  score,
  arrangement,
}: Pick<SongToPlan, 'score' | 'arrangement'>): number {
  const passes = passesOf({ ...score, form: arrangement.form ?? score.form });
  const steps = passes.map(({ pass }) =>
    TEXTURES.indexOf((pass as ArrangedPass).texture ?? 'held'),
  );
  return steps.reduce((sum, step) => sum + step, 0) / Math.max(1, steps.length);
}
