import type { Member } from '#server/contract/members.ts';
import type { NewService, Service } from '#server/contract/services.ts';
import type { Song } from '#server/contract/songs.ts';
import { addMember, bringHymn, NEW_BRITAIN, tagOf, type TestApp } from './api.ts';

type Api = TestApp['api'];

export async function addService(api: Api, facts: NewService): Promise<Service> {
  const answer = await api.post('/api/services').send(facts);
  if (answer.status !== 201) throw new Error(`${answer.status}: ${answer.text}`);
  return answer.body as Service;
}

/** A change on top of a version; what comes back is for the test to judge. */
export function patchService(api: Api, { id, version }: Service, change: object) {
  return api.patch(`/api/services/${id}`).set('if-match', tagOf(version)).send(change);
}

export interface PlannedService {
  readonly service: Service;
  readonly song: Song;
  readonly ada: Member;
  readonly joel: Member;
}

/** A Sunday with one song that Ada leads, a reading, and Joel at the keys. */
export async function planService(api: Api): Promise<PlannedService> {
  const song = await bringHymn(api, NEW_BRITAIN);
  const ada = await addMember(api, { name: 'Ada', roles: ['lead voice'] });
  const joel = await addMember(api, { name: 'Joel', roles: ['keys'] });
  const service = await addService(api, {
    date: '2026-03-08',
    zone: 'Europe/Berlin',
    place: 'Mill Lane',
    items: [
      {
        id: 'first',
        kind: 'song',
        song: song.id,
        key: { tonic: 'F', mode: 'major' },
        lead: ada.id,
        form: [
          { section: 'verse', verse: 1 },
          { section: 'verse', verse: 3, texture: 'every beat', ending: 'quiet' },
        ],
        playedIn: { [joel.id]: 'C' },
        rungs: { [joel.id]: { left: 2, sections: { refrain: { right: 2, texture: 3 } } } },
        note: 'quietly',
        wayOn: 'loop',
      },
      { id: 'second', kind: 'reading', title: 'Psalm 23', minutes: 3, lead: joel.id },
    ],
    people: [
      { member: ada.id, roles: ['lead voice'], voice: { low: 'G3', high: 'B4' } },
      { member: joel.id, roles: ['keys', 'leader'] },
    ],
  });
  return { service, song, ada, joel };
}
