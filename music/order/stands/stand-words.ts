import { counted, listed } from '../../score/number-words.ts';
import type { LinePages, PageChange, StandPerson } from './terms.ts';

/** What one person has to be told. */
export interface PersonTold {
  readonly member: string;
  readonly name: string;
  /** `Marit: three bars differ; the rest stays under your hands.` */
  readonly words: string;
  /** Song by song where something changes; `words` has bars by number. */
  readonly songs: readonly { readonly item: string; readonly words: string }[];
}

/** What everybody has to be told, in the order they serve; for whom nothing changes `songs` is empty. */
export function tell(
  people: readonly Pick<StandPerson, 'id' | 'name'>[],
  lines: readonly LinePages[],
): PersonTold[] {
  return people.map(({ id, name }) => {
    const own = lines.flatMap(({ item, pages }) =>
      pages.filter(({ member }) => member === id).map((page) => ({ item, page })),
    );
    const songs = own.flatMap(({ item, page: { words } }) =>
      words === '' ? [] : [{ item, words }],
    );
    return { member: id, name, words: say(name, own), songs };
  });
}

interface OwnPage {
  readonly item: string;
  readonly page: PageChange;
}

const isPlayed = ({ role }: PageChange): boolean =>
  role === 'keys' || role === 'bass' || role === 'guitar';

function say(name: string, own: readonly OwnPage[]): string {
  if (own.length === 0) return `${name}: no page this week.`;
  const bars = own.reduce((sum, { page }) => sum + (page.kind === 'bars' ? page.bars : 0), 0);
  const count = (isMeant: (page: PageChange) => boolean) =>
    new Set(own.flatMap(({ item, page }) => (isMeant(page) ? [item] : []))).size;
  const keys = count(({ kind }) => kind === 'key');
  const added = count(({ kind }) => kind === 'new');
  const settings = count(({ setting, kind }) => setting !== undefined && kind !== 'key');
  const said = [
    ...(bars > 0 ? [counted(bars, 'bar differs', 'bars differ')] : []),
    ...(keys > 0 ? [`${counted(keys, 'song is', 'songs are')} in another key`] : []),
    ...(added > 0 ? [`${counted(added, 'song has', 'songs have')} a new page`] : []),
    ...(settings > 0
      ? [`${counted(settings, 'song has', 'songs have')} another setting, where the page stays`]
      : []),
  ];
  if (said.length === 0) return `${name}: nothing changes.`;
  const plays = own.some(({ page }) => isPlayed(page));
  const rest = plays ? 'the rest stays under your hands' : 'the rest stays as it is';
  return `${name}: ${listed(said)}; ${rest}.`;
}
