import { describe, expect, it } from 'vitest';
import { hymn } from '#test/support/hymn.ts';
import type { Player } from '../../parts/arrangement.ts';
import { barsChanged, sungBarsChanged } from '../../parts/bars-changed.ts';
import type { Level } from '../../parts/level.ts';
import type { Role } from '../../parts/part.ts';
import { build } from '../../parts/parts.ts';
import { rungsFor } from '../../parts/rungs.ts';
import { HEARD } from './part-shelf.ts';

const SONGS = [
  'Amazing_Grace-New_Britain',
  'Be_Thou_My_Vision-Slane',
  'Silent_Night-Stille_Nacht',
].map((name) => hymn(`${name}.abc`));
const ALL: readonly Role[] = [
  'leader',
  'lead voice',
  'harmony voice',
  'keys',
  'guitar',
  'bass',
  'drums',
];
const LEVELS: readonly Level[] = ['beginner', 'intermediate', 'advanced'];
const WRITTEN = ['keys', 'bass', 'lead voice', 'harmony voice'] as const;

describe('Whose coming and going changes a part', () => {
  it.each(WRITTEN)('%s: nobody else than HEARD says', { timeout: 60_000 }, (role) => {
    const others = ALL.filter((each) => !HEARD[role].includes(each));
    for (const score of SONGS)
      for (const level of LEVELS) {
        const player: Player = {
          id: 'x',
          name: 'Ines',
          role,
          level,
          reach: 12,
          voice: { low: 'B2', high: 'D4' },
          rungs: rungsFor(level, {}),
        };
        const key = score.keys[0]?.key;
        if (!key) throw new Error('the hymn has a key');
        const arrangement = { key, tempo: null, density: 'bar', form: null } as const;
        const [full, bare] = [ALL, HEARD[role]].map((roles) =>
          build(score, arrangement, player, { roles }),
        );
        if (!full?.ok || !bare?.ok) throw new Error(`there is a part without ${others.join(', ')}`);
        expect(barsChanged(full.value, bare.value)).toEqual([]);
        expect(sungBarsChanged(full.value, bare.value)).toEqual([]);
      }
  });
});
