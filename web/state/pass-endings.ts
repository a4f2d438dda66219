import type { Ending } from '#music';
import type { ArrangedPass } from '#server/contract/music.ts';

function ended(pass: ArrangedPass, ending: Ending | null): ArrangedPass {
  const { ending: _, ...rest } = pass;
  return ending === null ? rest : { ...rest, ending };
}

/** Passes of which the last ends like that. @param ending null: as it is played */
export function endingLast(passes: readonly ArrangedPass[], ending: Ending | null): ArrangedPass[] {
  return passes.map((pass, i) => (i === passes.length - 1 ? ended(pass, ending) : pass));
}

/**
 * Passes in a new order: the song ends as it did, with whichever pass is the last now.
 * @param before the pass that was the last
 */
export function endingMoved(
  passes: readonly ArrangedPass[],
  before: ArrangedPass | undefined,
): readonly ArrangedPass[] {
  if (!before?.ending || passes.at(-1) === before) return passes;
  return endingLast(
    passes.map((pass) => (pass === before ? ended(pass, null) : pass)),
    before.ending,
  );
}
