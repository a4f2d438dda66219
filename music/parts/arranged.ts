import type { Key } from '../pitch/key.ts';
import { chords as readChords, type Density } from '../score/reduction.ts';
import type { Score } from '../score/score.ts';
import { inTempo } from '../score/tempos.ts';
import { score as transposed } from '../score/transpose.ts';
import type { Arrangement } from './arrangement.ts';
import { raised } from './form/raised.ts';
import { chordsBeside } from './rung-density.ts';

/**
 * The song in the arrangement's key, tempo and form, with the chords to play at its density; passes that are sung higher
 * or lower have copies of their sections in that key (see `raised`). The arrangement's tempo is that of the start; where
 * the song changes its tempo, the changes keep their ratio to it (see `inTempo`).
 * @param density of the player whose rung asks for fuller chords (see `densityFor`)
 */
export function arranged(
  score: Score,
  arrangement: Arrangement,
  density: Density = arrangement.density,
): Score {
  const inKey = transposed(score, arrangement.key);
  return raised({
    ...inTempo(inKey, arrangement.tempo),
    form: arrangement.form ?? inKey.form,
    chords: chordsBeside(inKey, arrangement.density, density),
  });
}

/**
 * The same in any key, the chords read once and then transposed, as a reading does not depend on the key: for trying
 * twelve keys at once. What the guesses say of themselves stays in the song's own key.
 */
export function arrangedInKeys(
  score: Score,
  arrangement: Omit<Arrangement, 'key'>,
): (key: Key) => Score {
  const { chords } = readChords(score, { density: arrangement.density });
  const song = {
    ...inTempo(score, arrangement.tempo),
    form: arrangement.form ?? score.form,
    chords,
  };
  return (key) => raised(transposed(song, key));
}
