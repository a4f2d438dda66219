import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { Abc, Keys, Parts, PlayedKeys, Rungs, type Key, type PlayedKey, type Role } from '#music';
import type { PersonParts } from '#server/contract/person-parts.ts';
import { changedSince } from './changed-since.ts';

const read = Abc.read(readFileSync('seed-data/hymns/Amazing_Grace-New_Britain.abc'));
const score = read.ok ? read.value[0] : undefined;
if (!score) throw new Error('the hymn is there');
const major = (tonic: string): Key => ({ tonic, mode: 'major' });

/** One sheet of Joel’s at the keys, as a device keeps it. */
function sheets(
  key: Key,
  roles: readonly Role[],
  played: PlayedKey | null = null,
  item = 'a',
): PersonParts {
  const rungs = Rungs.rungsFor('advanced');
  const player = {
    id: 'j',
    name: 'Joel',
    role: 'keys',
    level: 'advanced',
    reach: 12,
    rungs,
  } as const;
  const arrangement = {
    key: played?.plays ?? key,
    tempo: null,
    density: 'bar',
    form: null,
  } as const;
  const built = Parts.build(score as NonNullable<typeof score>, arrangement, player, { roles });
  if (!built.ok) throw new Error('there is a part');
  return {
    service: { title: '', date: '2026-11-29', time: '10:30', zone: 'UTC', place: '' },
    person: { id: 'j', name: 'Joel', roles: ['keys'] },
    reads: {},
    pages: [
      {
        kind: 'part',
        item,
        title: 'Amazing Grace',
        role: 'keys',
        played,
        part: built.value,
        player: { name: 'Joel' },
        remarks: [],
      },
    ],
  };
}

const WITH: readonly Role[] = ['keys', 'bass', 'lead voice'];
const WITHOUT: readonly Role[] = ['keys', 'lead voice'];

describe('What is otherwise than it was here last', () => {
  it('is nothing where nothing is', () => {
    expect(changedSince(sheets(major('F'), WITH), sheets(major('F'), WITH))).toEqual({});
    expect(changedSince(sheets(major('F'), WITH), sheets(major('D'), WITH, null, 'b'))).toEqual({});
  });

  it('is said in bars where a bass goes', () => {
    const said = changedSince(sheets(major('G'), WITH), sheets(major('G'), WITHOUT));
    const words = said['a keys'] ?? '';
    expect(words).toMatch(/^Changed since it was last here: Joel’s left hand, .*\.$/);
  });

  it('is the key where that changes, and the setting alone where a button keeps the page', () => {
    const was = sheets(major('F'), WITH);
    expect(changedSince(was, sheets(major('D'), WITH))['a keys']).toBe(
      'Changed since it was last here: in D major, not in F major.',
    );
    const played = PlayedKeys.of(major('D'), 'F', { transposeButton: true }, 'keys');
    expect(played && Keys.sameKey(played.plays, major('F'))).toBe(true);
    expect(changedSince(was, sheets(major('D'), WITH, played))['a keys']).toBe(
      'Changed since it was last here: play in F, keyboard set to −3: it sounds in D.',
    );
    expect(changedSince(sheets(major('D'), WITH, played), was)['a keys']).toContain(
      'nothing is set any more',
    );
  });
});
