import type { Voice } from '../../score/score.ts';

/** The voices of one part, and its staves in the score. */
export interface PartPlan {
  readonly name: string;
  readonly voices: readonly Voice[];
  readonly staves: readonly number[];
}

/** Voices of one group are one part; parts and staves stand from the top of the score down. */
export function partsOf(voices: readonly Voice[]): PartPlan[] {
  const groups = new Map<string, Voice[]>();
  for (const voice of voices) groups.set(voice.group, [...(groups.get(voice.group) ?? []), voice]);
  return [...groups]
    .map(([name, members]) => ({
      name,
      voices: [...members].sort((a, b) => a.staff - b.staff),
      staves: [...new Set(members.map(({ staff }) => staff))].sort((a, b) => a - b),
    }))
    .sort((a, b) => (a.staves[0] ?? 0) - (b.staves[0] ?? 0));
}
