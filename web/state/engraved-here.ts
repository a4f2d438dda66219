import { Sheets, type Engraved, type EngraveRequest, type PageRequest } from '#music';
import type { Page, PersonPages } from '#server/contract/pages.ts';
import type { PersonParts } from '#server/contract/person-parts.ts';

export interface EngravesHere {
  engrave(request: EngraveRequest): Promise<Engraved>;
}

interface Watched {
  /** Where it is aborted, no further sheet is begun. */
  readonly signal?: AbortSignal;
  /** The sheet that is open, which is engraved first; and who is given it while the others are engraved. */
  readonly open?: number;
  readonly onopen?: (page: Page) => void;
}

async function pageHere(
  page: PersonParts['pages'][number],
  request: PageRequest,
  engraver: EngravesHere,
): Promise<Page> {
  if (page.kind !== 'part') return page;
  const { kind: _kind, part, player, remarks, ...place } = page;
  const engraved = await engraver.engrave(Sheets.request(part, request));
  const sheet = Sheets.of(part, player, request, engraved, remarks, page.played);
  return { kind: 'staff', ...place, sheet };
}

/**
 * The pages of a person, engraved on this device from their parts: the same as the server makes them, without a network.
 * @throws Error where the engraver refuses a score or stops
 */
export async function engraveHere(
  { pages: written, ...head }: PersonParts,
  request: PageRequest,
  engraver: EngravesHere,
  { signal, open = 0, onopen }: Watched = {},
): Promise<PersonPages> {
  const made = new Map<number, Page>();
  const opened = written[open];
  if (opened) {
    const page = await pageHere(opened, request, engraver);
    signal?.throwIfAborted();
    made.set(open, page);
    onopen?.(page);
  }
  const pages: Page[] = [];
  for (const [index, page] of written.entries()) {
    signal?.throwIfAborted();
    pages.push(made.get(index) ?? (await pageHere(page, request, engraver)));
  }
  return { ...head, pages };
}
