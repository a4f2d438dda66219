import { describe, expect, it } from 'vitest';
import { hymn } from '#test/support/hymn.ts';
import { songOf } from '#test/support/small-abc.ts';
import { keysToOffer, type Key } from '../../pitch/key.ts';
import { pitchClassOf } from '../../pitch/pitch.ts';
import { QUARTER } from '../../score/score.ts';
import { of as difficultyOf } from '../keys/part-difficulty.ts';
import { movesOf } from './keys-in-key.ts';
import { build } from '../parts.ts';
import { compareCosts, costs, weigh, type PlayerInKey } from './players-in-key.ts';

const TEAM = { roles: ['keys', 'bass', 'guitar'] } as const;
const player = (more: Partial<PlayerInKey>): PlayerInKey => ({
  id: 'r',
  name: 'Ruth',
  role: 'keys',
  level: 'beginner',
  reach: 12,
  ...more,
});
const quick = { tempo: { beat: QUARTER, perMinute: 120 }, density: 'bar', form: null } as const;
const KEYS = keysToOffer('major');
const song = songOf('"C"c2"F"A2|"G"B2"Am"c2|"F"c2"G"B2|"C"c4|]', [
  'one two three four five six seven',
]);

describe('what a key asks of both hands', () => {
  const songs = ['Amazing_Grace-New_Britain.abc', 'Alleluia_Sing_To_Jesus-Hyfrydol.abc'].map(hymn);
  it.each(['beginner', 'intermediate', 'advanced'] as const)(
    'is that of the very part that is printed for a player who is %s, though the chords are read once',
    (level) => {
      const ruth = player({ level });
      for (const score of songs) {
        const { cost } = weigh(score, quick, ruth, TEAM);
        for (const key of [KEYS[0], KEYS[4], KEYS[10]] as Key[]) {
          const printed = build(score, { ...quick, key }, ruth, TEAM);
          if (!printed.ok) throw new Error('no part');
          const { hard, total } = movesOf(printed.value);
          expect(cost(key)).toMatchObject({ ease: { value: hard.length }, finer: [total] });
          // The dearest of each hand is the one that the part's own difficulty names.
          const { items } = difficultyOf(printed.value, []);
          for (const hand of ['right hand', 'left hand'] as const) {
            const mine = movesOf(printed.value).moves.filter(({ what }) => what === hand);
            const most = Math.max(0, ...mine.map((each) => each.cost));
            expect(items.find(({ what }) => what === hand)?.cost ?? 0).toBe(most);
          }
        }
      }
    },
  );

  it('counts the left hand too', () => {
    const key: Key = { tonic: 'Bb', mode: 'major' };
    const built = build(songs[0] ?? song, { ...quick, key }, player({}), TEAM);
    if (!built.ok) throw new Error('no part');
    expect(new Set(movesOf(built.value).moves.map(({ what }) => what))).toContain('left hand');
  });

  it('is null where there is nothing to play', () => {
    const none = { ...song, chords: [] };
    for (const role of ['keys', 'guitar', 'bass'] as const)
      expect(weigh(none, quick, player({ role }), TEAM).cost(KEYS[0] as Key)).toBeNull();
  });
});

describe('a transpose button', () => {
  const score = hymn('Alleluia_Sing_To_Jesus-Hyfrydol.abc');
  const plain = weigh(score, quick, player({}), TEAM);
  const ruth = player({ instruments: { transposeButton: true } });
  const offered = weigh(score, quick, ruth, TEAM);
  const used = weigh(score, quick, { ...ruth, byButton: true }, TEAM);

  it.each(KEYS.map((key) => [key.tonic, key] as const))(
    '%s: the easiest of all twelve keys, where it leaves fewer hard moves; both keys are said',
    (_, key) => {
      const own = plain.cost(key);
      const others = KEYS.map((each) => plain.cost(each)?.ease.value ?? NaN);
      const least = Math.min(...others);
      const instead = offered.cost(key)?.instead ?? null;
      expect(offered.cost(key)?.ease).toEqual(own?.ease);
      if (least === own?.ease.value) expect(instead).toBeNull();
      else {
        expect(instead?.ease.value).toBe(least);
        const { plays } = instead ?? {};
        expect(plays && (pitchClassOf(plays.plays.tonic) + plays.amount + 24) % 12).toBe(
          pitchClassOf(key.tonic),
        );
        expect(instead?.sentence).toContain(plays?.words);
      }
      const best = used.cost(key);
      expect(best && own && compareCosts(best, own)).toBeLessThanOrEqual(0);
      expect(best?.plays).toEqual(instead?.plays ?? null);
    },
  );
});

describe('costs of all who play', () => {
  it('stand side by side, each with a figure and a unit of its own', () => {
    const table = costs(
      song,
      quick,
      [player({}), player({ id: 'j', name: 'Joel', role: 'guitar' }), player({ role: 'bass' })],
      TEAM,
    );
    expect(table.map(({ key }) => key.tonic)).toEqual(KEYS.map(({ tonic }) => tonic));
    for (const { costs: each } of table)
      expect(each.map(({ ease }) => ease.unit)).toEqual([
        'hard moves',
        'barre changes',
        'per cent off open strings',
      ]);
    const a = table.find(({ key }) => key.tonic === 'A')?.costs[1];
    // A D E F♯m: with the capo at 2 the shapes are G C D Em.
    expect(a?.phrase).toBe('capo 2, shapes of G: no barre chord');
    expect(a?.sentence).toContain('capo 2: shapes of G, it sounds in A');
  });
});
