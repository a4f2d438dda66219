import { describe, expect, it } from 'vitest';
import { EasierKeys } from '#music';
import type { Member } from '#server/contract/members.ts';
import { readerOf } from './service-week.ts';

const JOEL: Member = {
  id: 'joel',
  name: 'Joel',
  roles: ['keys'],
  level: 'intermediate',
  levels: { 'left hand': 'beginner', guitar: 'advanced' },
  instruments: { transposeButton: true },
  reach: 12,
  comfortable: null,
  limit: null,
  child: false,
  rangeMarkedAt: null,
  version: 1,
  deletedAt: null,
};

describe('How somebody reads', () => {
  it('is as the hand that is less far, at the keys; on the guitar as it is said there', () => {
    expect(readerOf(JOEL, 'keys').level).toBe('beginner');
    expect(readerOf({ ...JOEL, levels: {} }, 'keys').level).toBe('intermediate');
    expect(readerOf(JOEL, 'guitar').level).toBe('advanced');
  });

  it('decides what the leader is offered for them', () => {
    const flats = { tonic: 'Eb', mode: 'major' } as const;
    const offered = (member: Member) =>
      EasierKeys.easierKey(flats, readerOf(member, 'keys'))?.plays.tonic;
    expect(offered(JOEL)).toBe('C');
    expect(offered({ ...JOEL, levels: {} })).toBeUndefined();
  });
});
