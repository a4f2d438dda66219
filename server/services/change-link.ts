import type { SetLink, SetLinkChange } from '../contract/links.ts';
import type { TeamStore } from '../store/store.ts';
import { noSuchLink, requireLink } from './find-links.ts';
import { staleVersion } from './stale-version.ts';

export async function changeLink(
  store: TeamStore,
  id: string,
  version: number,
  { marksRanges, endsAt, revoked }: SetLinkChange,
): Promise<SetLink> {
  return store.together(async (rooms) => {
    const before = await rooms.links.find(id);
    if (!before?.served) throw noSuchLink();
    const facts = {
      marksRanges: marksRanges ?? before.marksRanges,
      endsAt: endsAt === undefined ? before.endsAt : new Date(endsAt),
    };
    if (!(await rooms.links.update(id, version, facts, revoked))) throw staleVersion('The link');
    return requireLink(rooms, id);
  });
}
