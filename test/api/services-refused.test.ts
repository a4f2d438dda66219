import { describe, expect, it } from 'vitest';
import { ownApp } from '#test/support/api.ts';
import { addService, patchService, planService } from '#test/support/planned-service.ts';
import { expectProblem } from '#test/support/problem.ts';

const SUNDAY = { date: '2026-03-08' };
const song = (more: object) => ({ id: 'a', kind: 'song', ...more });

describe('what a service cannot be', () => {
  it.each([
    ['a day that no calendar has', { date: '2026-02-30' }, 'date'],
    ['a year without telephones', { date: '1812-03-08' }, 'date'],
    ['an hour that no clock has', { time: '25:00' }, 'time'],
    ['a zone that nobody knows', { zone: 'Europe/Atlantis' }, 'zone'],
    ['an offset for a zone', { zone: '+02:00' }, 'zone'],
    ['an empty title', { title: ' ' }, 'title'],
    ['a line of no kind', { items: [{ id: 'a', kind: 'dance' }] }, 'items.0.kind'],
    ['half minutes', { items: [{ id: 'a', kind: 'talk', minutes: 1.5 }] }, 'items.0.minutes'],
    ['a song line without a song', { items: [song({})] }, 'items.0.song'],
    [
      'a reading with a key',
      { items: [{ id: 'a', kind: 'reading', key: { tonic: 'F', mode: 'major' } }] },
      'items.0.key',
    ],
    [
      'a prayer with a form',
      { items: [{ id: 'a', kind: 'prayer', form: [{ section: 'verse', verse: 1 }] }] },
      'items.0.form',
    ],
    [
      'two lines of one id',
      { items: ['b', 'a', 'a'].map((id) => ({ id, kind: 'prayer' })) },
      'items.2.id',
    ],
    ['a role that nobody has', { people: [{ member: 'x', roles: ['tuba'] }] }, 'people.0.roles.0'],
    [
      'somebody twice',
      { people: ['x', 'y', 'x'].map((member) => ({ member, roles: [] })) },
      'people.2.member',
    ],
    [
      'a voice upside down',
      { people: [{ member: 'x', roles: [], voice: { low: 'C5', high: 'A3' } }] },
      'people.0.voice',
    ],
  ])('%s: 400 with the path of the field, new and changed alike', async (_, wrong, field) => {
    const { api } = await ownApp();
    const fields = (answer: Parameters<typeof expectProblem>[0]) =>
      expectProblem(answer, 'invalid-input').problems?.map((each) => each.field);
    expect(fields(await api.post('/api/services').send({ ...SUNDAY, ...wrong }))).toEqual([field]);
    const service = await addService(api, SUNDAY);
    expect(fields(await patchService(api, service, wrong))).toEqual([field]);
    expect((await api.get(`/api/services/${service.id}`)).body).toEqual(service);
  });

  it('a form that the song has not: 400, and says what it has', async () => {
    const { api } = await ownApp();
    const { service, song: hymn } = await planService(api);
    const withForm = (form: object[]) => ({
      items: [{ id: 'new', kind: 'song', song: hymn.id, form }],
    });
    const section = await patchService(api, service, withForm([{ section: 'coda', verse: null }]));
    expect(expectProblem(section, 'invalid-input')).toMatchObject({
      detail: '“Amazing Grace” has no section “coda”; it has verse. Nothing was changed.',
      problems: [{ field: 'items.0.form.0.section' }],
    });
    const verse = await patchService(api, service, withForm([{ section: 'verse', verse: 40 }]));
    expect(expectProblem(verse, 'invalid-input').problems).toMatchObject([
      { field: 'items.0.form.0.verse', message: '“Amazing Grace” has no verse 40.' },
    ]);
    expectProblem(await patchService(api, service, withForm([])), 'invalid-input');
  });

  it('a major song in minor: 422', async () => {
    const { api } = await ownApp();
    const { service, song: hymn } = await planService(api);
    const items = [song({ song: hymn.id, key: { tonic: 'E', mode: 'minor' } })];
    expectProblem(await patchService(api, service, { items }), 'not-possible');
    expectProblem(await api.post('/api/services').send({ ...SUNDAY, items }), 'not-possible');
  });

  it('names that are not there: 422 with the path of each', async () => {
    const { api } = await ownApp();
    const { service, song: hymn } = await planService(api);
    const wrong: ['unknown-song' | 'unknown-member', string, object][] = [
      ['unknown-song', 'items.0.song', { items: [song({ song: 'none' })] }],
      ['unknown-member', 'items.0.lead', { items: [song({ song: hymn.id, lead: 'nobody' })] }],
      [
        'unknown-member',
        'items.0.form.1.lead',
        {
          items: [
            song({
              song: hymn.id,
              form: [
                { section: 'verse', verse: 1 },
                { section: 'verse', verse: 2, lead: 'nobody' },
              ],
            }),
          ],
        },
      ],
      [
        'unknown-member',
        'items.0.playedIn.nobody',
        { items: [song({ song: hymn.id, playedIn: { nobody: 'C' } })] },
      ],
      ['unknown-member', 'people.0.member', { people: [{ member: 'nobody', roles: [] }] }],
    ];
    for (const [code, field, change] of wrong) {
      const changed = expectProblem(await patchService(api, service, change), code);
      expect(changed.problems).toMatchObject([{ code, field }]);
      const added = await api.post('/api/services').send({ ...SUNDAY, ...change });
      expectProblem(added, code);
    }
    expect((await api.get(`/api/services/${service.id}`)).body).toEqual(service);
  });
});

describe('what is wrong with a service', () => {
  it.each([
    [
      { date: 'Easter' },
      'The date must be a day of the calendar such as 2026-11-29; “Easter” is not.',
    ],
    [
      { items: [{ id: 'a', kind: 'talk', minutes: 999 }] },
      'The length of a line must be whole minutes from 0 to 240, or nothing; 999 is not.',
    ],
    [
      { items: [{ id: 'a', kind: 'song' }] },
      'Line 1 of the order is a song, and no song is named.',
    ],
    [
      { items: [{ id: 'a', kind: 'prayer', wayOn: 'loop' }] },
      'Line 1 of the order is no song, and a way to the next song is named there.',
    ],
    [
      { zone: 'Berlin/Europe' },
      'No clocks are known for “Berlin/Europe”; a time zone is named like Europe/Berlin.',
    ],
    [
      { people: ['x', 'x'].map((member) => ({ member, roles: [] })) },
      'People 1 and 2 are the same.',
    ],
  ])('is said in a sentence: %j', async (wrong, said) => {
    const { api } = await ownApp();
    const answer = await api.post('/api/services').send({ ...SUNDAY, ...wrong });
    expect(expectProblem(answer, 'invalid-input').detail).toBe(`${said} Nothing was changed.`);
  });
});
