import { describe, expect, it } from 'vitest';
import { hymn } from '#test/support/hymn.ts';
import type { Score } from '../../score/score.ts';
import type { ArrangedPass } from '../arrangement.ts';
import { sayPassLeads } from './pass-leads.ts';

const GRACE = hymn('Amazing_Grace-New_Britain.abc');
const [VERSE] = GRACE.sections;
if (!VERSE) throw new Error('it has a verse');
const REFRAIN = { ...VERSE, id: 'refrain', kind: 'refrain', name: 'Refrain' } as const;

const verse = (number: number, lead?: string): ArrangedPass => ({
  section: VERSE.id,
  verse: number,
  ...(lead && { lead }),
});
const refrain = (lead?: string): ArrangedPass => ({
  section: 'refrain',
  verse: null,
  ...(lead && { lead }),
});
const withForm = (form: readonly ArrangedPass[]): Score => ({
  ...GRACE,
  sections: [VERSE, REFRAIN],
  form,
});

describe('who leads which pass', () => {
  it.each<[string, ArrangedPass[], string | null, string]>([
    ['nobody is named by a pass', [verse(1), refrain()], 'Ada', ''],
    ['all name who leads the song', [verse(1, 'Ada'), refrain('Ada')], 'Ada', ''],
    ['all name another', [verse(1, 'Bo'), refrain('Bo')], 'Ada', 'Bo leads every pass'],
    [
      'they take turns',
      [verse(1), refrain(), verse(2, 'Bo'), refrain(), verse(3), refrain()],
      'Ada',
      'verses 1 and 3, refrain: Ada leads; verse 2: Bo leads',
    ],
    [
      'one refrain is another’s',
      [verse(1), refrain(), verse(2), refrain('Bo')],
      'Ada',
      'verses 1 and 2, refrain, first time: Ada leads; refrain, second time: Bo leads',
    ],
    ['nobody leads the rest', [verse(1), verse(2, 'Bo')], null, 'verse 2: Bo leads'],
  ])('%s', (_, form, usual, words) => {
    expect(sayPassLeads(withForm(form), usual)).toBe(words);
  });
});
