import { describe, expect, it } from 'vitest';
import { Keys } from '#music';
import { ROWS as rows } from '#test/support/two-singers.ts';
import { sayBriefly } from './key-choices.ts';

const inKey = (tonic: string) => {
  const row = rows.find(({ key }) => key.tonic === tonic);
  if (!row) throw new Error(`${tonic} stays`);
  return row;
};

describe('a key in one line', () => {
  it('names whom it suits worst, how far it is from home and what is to be read', () => {
    // D4 to D5 as written: two steps over Ada's B4, within Ruth's A3 to E5.
    const asWritten = { ...inKey('G'), dominated: null };
    expect(sayBriefly(asWritten)).toBe('outside the range of Ada · as written · one sharp');
  });

  it('names the key that is as good or better, and no key where there is none', () => {
    for (const row of rows) {
      const by = row.dominated && `${Keys.sayKey(row.dominated.by)} is as good or better`;
      const said = sayBriefly(row);
      if (by) expect(said.split(' · ').slice(1)).toEqual([by]);
      else expect(said).not.toContain('as good or better');
    }
    expect(rows.some(({ dominated }) => dominated)).toBe(true);
    expect(rows.some(({ dominated }) => !dominated)).toBe(true);
  });

  it('names nobody where it is easy for all', () => {
    const easy = { ...inKey('G'), voices: inKey('G').voices.map((row) => ({ ...row, verdict: 'easy' as const })) }; // prettier-ignore
    expect(sayBriefly(easy)).toMatch(/^easy for every voice( · |$)/);
  });
});
