import { rubricsFor, type TechniqueRubric } from '../hand/technique.ts';
import { feltBeat, meterAt } from '../score/time.ts';
import type { Part } from './part.ts';

/** How the body plays a part at the keys: lines of common practice, chosen by its notes; of another role none. */
export function techniqueOf({ role, score }: Pick<Part, 'role' | 'score'>): TechniqueRubric[] {
  if (role !== 'keys') return [];
  return rubricsFor({
    bars: score.bars,
    right: score.voices.find(({ id }) => id === 'right')?.notes ?? [],
    hasPedal: score.voices.some(({ notes }) => notes.some(({ pedal }) => pedal !== undefined)),
    beatAt: (at) => feltBeat(meterAt(score, at)),
  });
}
