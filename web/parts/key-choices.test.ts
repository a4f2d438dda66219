import { describe, expect, it } from 'vitest';
import { KeyFit, Keys, type Singer } from '#music';
import { buildScore } from '#test/support/score-builder.ts';
import { sayBriefly } from './key-choices.ts';

const RUTH: Singer = {
  id: 'ruth',
  name: 'Ruth',
  comfortable: { low: 'A3', high: 'E5' },
  reads: 'as written',
};
const ADA: Singer = { ...RUTH, id: 'ada', name: 'Ada', comfortable: { low: 'G3', high: 'B4' } };
const score = buildScore({
  key: 'G',
  meter: '3/4',
  voices: { tune: 'D4 | G4:2 B4 | B4:2 A4 | G4:2 E4 | D4:2 D4 | G4:2 B4 | B4:2 A4 | D5:3 | D5:2' },
});
const { rows } = KeyFit.front(KeyFit.table(score, [RUTH, ADA]), { lead: 'ruth' });
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
