import { describe, expect, it } from 'vitest';
import { songOf } from '#test/support/small-abc.ts';
import type { Role } from '../../parts/part.ts';
import type { Range } from '../../voice/range.ts';
import { of as wordsSheet } from '../../sheet/words-sheets.ts';
import { LeastChange } from './least-change.ts';
import { tell } from './stand-words.ts';
import type { Mishaps, StandPerson, StandService } from './terms.ts';

const person = (id: string, roles: Role[], comfortable: Range | null = null): StandPerson => ({ id, name: id, roles, level: 'beginner', levels: {}, instruments: {}, reach: 12, comfortable, limit: null }); // prettier-ignore
const PEOPLE = [
  person('Marit', ['leader']),
  person('Joel', ['keys']),
  person('Elias', ['guitar']),
  person('Dora', ['bass']),
  person('Ada', ['lead voice'], { low: 'A3', high: 'C5' }),
  person('Ruben', ['lead voice'], { low: 'A3', high: 'C5' }),
];
const song = songOf('"C"EGcG|"F"A2F2|"G"GFDG|"C"E4|]', ['one two three four five six']);
const key = { tonic: 'C', mode: 'major' } as const;
const service: StandService = {
  people: PEOPLE,
  congregation: null,
  lines: [{ id: 'a', title: 'A tune', score: song, arrangement: { tempo: null, density: 'bar', form: null }, usual: key, now: { key, lead: 'Ada' }, named: 'Ada', usualLead: null, playedIn: {}, rungs: {} }], // prettier-ignore
};
const toldOf = (mishaps: Mishaps, serve: 'the same' | 'others') => {
  const change = new LeastChange(service, mishaps);
  const pages = change.pagesOf('a');
  const told = tell(change.plan.people, pages ? [pages] : [], serve);
  return new Map(told.map(({ name, ...each }) => [name, each]));
};

describe('What pages say otherwise where not a note is other', () => {
  it('is told to who has words and to who leads the service', () => {
    const told = toldOf({ Ada: { kind: 'away' } }, 'others');
    // The words themselves say who leads.
    const said = (lead: string) => {
      const elias = { name: 'Elias', role: 'guitar' } as const;
      const sheet = wordsSheet(song, { key, tempo: null, density: 'bar' }, elias, {
        names: { lead },
      });
      return JSON.stringify(sheet);
    };
    expect(said('Ada')).not.toBe(said('Ruben'));
    expect(told.get('Elias')?.words).toBe(
      'Elias: one page reads otherwise; the rest stays under your hands.',
    );
    expect(told.get('Elias')?.songs).toEqual([
      { item: 'a', words: 'Elias: the page says that Ruben leads' },
    ]);
    expect(told.get('Marit')?.words).toContain('your order names other leads and others who serve');
    expect(told.get('Marit')?.songs.map(({ words }) => words)).toContain(
      'Marit’s order: Ruben leads',
    );
    expect(told.get('Joel')).toMatchObject({ isTouched: false, words: 'Joel: nothing changes.' });
  });

  it('is the order alone where who leads stays and somebody else is away', () => {
    const told = toldOf({ Dora: { kind: 'away' } }, 'others');
    expect(told.get('Marit')).toMatchObject({
      isTouched: true,
      words: 'Marit: your order names others who serve; the rest stays as it is.',
      songs: [],
    });
    expect(told.get('Elias')?.isTouched).toBe(false);
  });
});
