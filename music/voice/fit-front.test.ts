import { describe, expect, it } from 'vitest';
import { buildScore } from '#test/support/score-builder.ts';
import type { Key } from '../pitch/key.ts';
import { voice as congregation } from './congregation.ts';
import { front, table } from './key-fit.ts';
import type { Singer } from './range.ts';

const score = buildScore({
  key: 'G',
  meter: '3/4',
  voices: { tune: 'D4 | G4:2 B4 | B4:2 A4 | G4:2 E4 | D4:2 D4 | G4:2 B4 | B4:2 A4 | D5:3 | D5:2' },
});
const ruth: Singer = {
  id: 'ruth',
  name: 'Ruth',
  comfortable: { low: 'A3', high: 'D5' },
  reads: 'as written',
};
const tomas: Singer = {
  id: 'tomas',
  name: 'Tomas',
  comfortable: { low: 'C3', high: 'E4' },
  reads: 'octave below',
};
const name = ({ key }: { key: Key }) => key.tonic;

describe('the keys that stay', () => {
  it('are those in which the lead sings nothing outside; the others say why they went', () => {
    const found = front(table(score, [ruth, tomas]), { lead: 'ruth' });
    expect(found.rows.map(name).join(' ')).toBe('D Eb E F F# G');
    expect(found.dropped.map(name).join(' ')).toBe('C Db Ab A Bb B');
    expect(found.dropped.find(({ key }) => key.tonic === 'Ab')?.because).toEqual([
      'Too high for Ruth: bar 7 holds E♭5 for three beats, a half step above D5, the highest that sits easily; the song is above it for five beats in all.',
    ]);
    expect(found.relaxed).toBeNull();
  });

  it('must suit everyone who leads', () => {
    const found = front(table(score, [ruth, tomas]), { lead: ['ruth', 'tomas'] });
    expect(found.rows.map(name).join(' ')).toBe('F F# G');
    expect(found.dropped.find(({ key }) => key.tonic === 'D')?.because.join()).toContain('Tomas');
  });

  it('carry every dimension in words and numbers', () => {
    const hands = (key: Key) =>
      key.tonic === 'F' ? { total: 6.5, items: [{ words: 'two black keys', cost: 6.5 }] } : null;
    const found = front(table(score, [ruth, congregation()]), { lead: 'ruth', handCost: hands });
    const row = found.rows.find(({ key }) => key.tonic === 'F');
    expect(row?.costs.map(({ dimension, value, words }) => [dimension, value, words])).toEqual([
      ['voice', 0, 'Ruth: easy'],
      ['voice', 0, 'the congregation: easy'],
      ['hands', 6.5, 'hands 6.5 (two black keys)'],
      ['distance', 2, 'down a step'],
      ['signature', 1, 'one flat'],
    ]);
  });

  it('say in words what the hands do, where somebody can, and no bare number', () => {
    const easier = new Set(['F', 'G']);
    const hands = ({ tonic }: Key) => ({
      total: easier.has(tonic) ? 4.5 : 60.6,
      items: [],
      phrase: `${easier.has(tonic) ? 'two shapes' : 'nine shapes'}, hardest change ${tonic} to its fifth`,
    });
    const { rows } = front(table(score, [ruth]), { lead: 'ruth', handCost: hands });
    const row = (tonic: string) => rows.find(({ key }) => key.tonic === tonic);
    const words = row('F')?.costs.find(({ dimension }) => dimension === 'hands')?.words;
    expect(words).toBe('hands: two shapes, hardest change F to its fifth');
    expect(row('F#')?.dominated?.better).toContain(
      'hands: two shapes, hardest change G to its fifth instead of nine shapes, hardest change F# to its fifth',
    );
    expect(JSON.stringify(rows.map(({ costs }) => costs.map((cost) => cost.words)))).not.toMatch(
      /60\.6|4\.5/,
    );
  });

  it('say where another key is at least as good in everything, and what they keep all the same', () => {
    const { rows } = front(table(score, [ruth]), { lead: 'ruth' });
    const sharp = rows.find(({ key }) => key.tonic === 'F#');
    expect(sharp?.dominated).toEqual({
      by: { tonic: 'G', mode: 'major' },
      better: ['as written instead of down a half step', 'one sharp instead of six sharps'],
      despite: ['nearer the middle of Ruth’s range (2.2 half steps off instead of 3.2)'],
    });
    expect(rows.filter(({ dominated }) => !dominated).map(name)).toEqual(['F', 'G']);
  });

  it('name three gains of the other key at most, voices first and the largest of them before the rest', () => {
    const high = (id: string, low: string): Singer => ({ ...ruth, id, name: id, comfortable: { low, high: 'E5' } }); // prettier-ignore
    const others = [high('Ada', 'D4'), high('Wren', 'E4'), high('Joel', 'G4')];
    const { rows } = front(table(score, [ruth, ...others]), { lead: 'ruth' });
    const all = rows.flatMap(({ dominated }) => (dominated ? [dominated.better] : []));
    expect(all.length).toBeGreaterThan(0);
    for (const better of all) expect(better.length).toBeLessThanOrEqual(3);
    expect(all.some((better) => better.length === 3)).toBe(true);
    for (const row of rows) {
      const by = rows.find(({ key }) => key.tonic === row.dominated?.by.tonic);
      const gains = row.costs.map((cost, i) => ({ ...cost, gain: cost.value - (by?.costs[i]?.value ?? 0) })); // prettier-ignore
      const largest = gains.filter(({ dimension, gain }) => dimension === 'voice' && gain > 0).toSorted((a, b) => b.gain - a.gain)[0]; // prettier-ignore
      const name = largest?.words.split(':')[0] ?? '';
      if (row.dominated && largest)
        expect(row.dominated.better[0]).toMatch(new RegExp(`^${name}: `));
    }
  });

  it('no key on the front is worse than another one in everything', () => {
    const { rows } = front(table(score, [ruth, tomas]), { lead: 'ruth' });
    for (const row of rows.filter(({ dominated }) => !dominated)) {
      for (const other of rows.filter((each) => each !== row)) {
        const worse = row.costs.every((cost, i) => cost.value >= (other.costs[i]?.value ?? 0));
        const same = row.costs.every((cost, i) => cost.value === other.costs[i]?.value);
        expect(worse && !same).toBe(false);
      }
    }
  });

  it('where none suits the lead, those with the least outside stay, and it says so', () => {
    const narrow: Singer = { ...ruth, comfortable: { low: 'C4', high: 'A4' } };
    const found = front(table(score, [narrow]), { lead: 'ruth' });
    expect(found.rows.length).toBeGreaterThan(0);
    expect(found.relaxed).toMatch(
      /^None of the 12 keys keeps the whole tune in the comfortable range; .+ with the least outside\. In [A-G].?: Too .+ bar \d/,
    );
  });

  it('where some leave only a little outside, briefly, all of these stay', () => {
    const almost: Singer = { ...ruth, comfortable: { low: 'D4', high: 'B4' } };
    const tune = buildScore({
      key: 'C',
      meter: '4/4',
      voices: { tune: 'E4:20 B4:18 C5:1 D4:1' },
    });
    const found = front(table(tune, [almost]), { lead: 'ruth' });
    const verdicts = found.rows.map(({ voices }) => voices[0]?.verdict);
    expect(new Set(verdicts)).toEqual(new Set(['edge']));
    expect(found.relaxed).toContain('In C: At the edge for Ruth: bar 10 has C5 for one beat');
  });

  it('a lead that the table has not is a mistake of the caller', () => {
    expect(() => front(table(score, [ruth]), { lead: 'nobody' })).toThrow('no voice nobody');
  });

  it('without a tune there is nothing to choose', () => {
    const silent = buildScore({ key: 'G', meter: '3/4', voices: { tune: 'r:3' } });
    expect(front(table(silent, [ruth]), { lead: 'ruth' })).toEqual({
      rows: [],
      dropped: [],
      relaxed: null,
      suggestion: null,
    });
  });
});

describe('the suggestion', () => {
  it('lists each step that decided, with the keys it left', () => {
    const { suggestion } = front(table(score, [ruth]), { lead: 'ruth' });
    expect(suggestion).toEqual({
      key: { tonic: 'F', mode: 'major' },
      steps: [
        {
          by: 'how easily the singers sit, the one who has it worst first',
          left: [{ tonic: 'F', mode: 'major' }],
          words: 'F: Ruth: easy',
        },
      ],
    });
  });

  it('changes with the hands where the voices are as well off', () => {
    const anyone: Singer = { ...ruth, comfortable: { low: 'F3', high: 'G5' } };
    const easyIn = (tonic: string) => (key: Key) => ({
      total: key.tonic === tonic ? 1 : 9,
      items: [],
    });
    const fit = table(score, [anyone]);
    const [inC, inD] = ['C', 'D'].map(
      (tonic) => front(fit, { lead: 'ruth', handCost: easyIn(tonic) }).suggestion,
    );
    expect(inC?.key.tonic).not.toBe(inD?.key.tonic);
    expect(inD?.steps.at(-1)?.words).toBe('D: hands 1, the least');
    const named = (key: Key) => ({
      ...easyIn('D')(key),
      phrase: 'two shapes, hardest change D to A',
    });
    const { suggestion } = front(fit, { lead: 'ruth', handCost: named });
    expect(suggestion?.steps.at(-1)?.words).toBe(
      'D: two shapes, hardest change D to A; the hands have it easiest here',
    );
  });

  it('lets the hands choose only among keys that the voices sing as easily', () => {
    const cheapIn = (tonic: string) => (key: Key) => ({
      total: key.tonic === tonic ? 1 : 9,
      items: [],
    });
    const fit = table(score, [ruth]);
    const verdictIn = (tonic: string) => fit.rows.find(({ key }) => key.tonic === tonic)?.verdict;
    const suggested = (tonic: string) =>
      front(fit, { lead: 'ruth', handCost: cheapIn(tonic) }).suggestion?.key.tonic;
    expect([verdictIn('F'), verdictIn('G'), verdictIn('Ab')]).toEqual(['easy', 'works', 'outside']);
    expect([suggested('F'), suggested('G'), suggested('Ab')]).toEqual(['F', 'F', 'F']);
  });
});
