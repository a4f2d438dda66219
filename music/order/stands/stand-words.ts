import { counted, listed } from '../../score/number-words.ts';
import type { LinePages, OrderOther, PageChange, StandPerson } from './terms.ts';

/** What one person has to be told. */
export interface PersonTold {
  readonly member: string;
  readonly name: string;
  /** `Marit: three bars differ; the rest stays under your hands.` */
  readonly words: string;
  /** Something changes for them, on a page or in the order of service. */
  readonly isTouched: boolean;
  /** Song by song where something changes; `words` has bars by number. */
  readonly songs: readonly { readonly item: string; readonly words: string }[];
}

/**
 * What everybody has to be told, in the order they serve; for whom nothing changes `songs` is empty.
 * @param serve whether others serve now, or as something else: the order of service names them
 */
export function tell(
  people: readonly Pick<StandPerson, 'id' | 'name' | 'roles'>[],
  lines: readonly LinePages[],
  serve: 'the same' | 'others' = 'the same',
): PersonTold[] {
  return people.map(({ id, name, roles }) => {
    const isOthers = serve === 'others' && roles.includes('leader');
    const own = lines.flatMap(({ item, pages }) =>
      pages.filter(({ member }) => member === id).map((page) => ({ item, page })),
    );
    const songs = own.flatMap(({ item, page: { words } }) =>
      words === '' ? [] : [{ item, words }],
    );
    const said = saidOf(own, isOthers);
    return { member: id, name, words: say(name, own, said), isTouched: said.length > 0, songs };
  });
}

interface OwnPage {
  readonly item: string;
  readonly page: PageChange;
}

const ORDER: readonly OrderOther[] = ['other leads', 'other keys', 'other ways on'];

const isPlayed = ({ role }: PageChange): boolean =>
  role === 'keys' || role === 'bass' || role === 'guitar';

function saidOf(own: readonly OwnPage[], isOthers: boolean): string[] {
  const bars = own.reduce((sum, { page }) => sum + (page.kind === 'bars' ? page.bars : 0), 0);
  const count = (isMeant: (page: PageChange) => boolean) =>
    new Set(own.flatMap(({ item, page }) => (isMeant(page) ? [item] : []))).size;
  const keys = count(({ kind }) => kind === 'key');
  const added = count(({ kind }) => kind === 'new');
  const settings = count(({ setting, kind }) => setting !== undefined && kind !== 'key');
  const reading = count(({ kind }) => kind === 'words');
  const order = ORDER.filter((each) => own.some(({ page }) => page.order?.includes(each)));
  const inOrder = [...order, ...(isOthers ? ['others who serve'] : [])];
  return [
    ...(bars > 0 ? [counted(bars, 'bar differs', 'bars differ')] : []),
    ...(keys > 0 ? [`${counted(keys, 'song is', 'songs are')} in another key`] : []),
    ...(added > 0 ? [`${counted(added, 'song has', 'songs have')} a new page`] : []),
    ...(settings > 0
      ? [`${counted(settings, 'song has', 'songs have')} another setting, where the page stays`]
      : []),
    ...(reading > 0 ? [counted(reading, 'page reads otherwise', 'pages read otherwise')] : []),
    ...(inOrder.length > 0 ? [`your order names ${listed(inOrder)}`] : []),
  ];
}

function say(name: string, own: readonly OwnPage[], said: readonly string[]): string {
  if (said.length === 0)
    return own.length === 0 ? `${name}: no page this week.` : `${name}: nothing changes.`;
  const plays = own.some(({ page }) => isPlayed(page));
  const rest = plays ? 'the rest stays under your hands' : 'the rest stays as it is';
  return `${name}: ${listed(said)}; ${rest}.`;
}
