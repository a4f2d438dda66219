import { Sheets, type Engraved, type EngraveRequest, type PageRequest } from '#music';
import type { Page, PersonPages } from '#server/contract/pages.ts';
import type { PersonParts } from '#server/contract/person-parts.ts';

export interface EngravesHere {
  engrave(request: EngraveRequest): Promise<Engraved>;
}

/**
 * The pages of a person, engraved on this device from their parts: the same as the server makes them, without a network.
 * @param signal where it is aborted, no further sheet is begun
 * @throws Error where the engraver refuses a score or stops
 */
export async function engraveHere(
  { pages: written, ...head }: PersonParts,
  request: PageRequest,
  engraver: EngravesHere,
  signal?: AbortSignal,
): Promise<PersonPages> {
  const pages: Page[] = [];
  for (const page of written) {
    signal?.throwIfAborted();
    if (page.kind !== 'part') {
      pages.push(page);
      continue;
    }
    const { item, title, role, played, part, player, remarks } = page;
    const engraved = await engraver.engrave(Sheets.request(part, request));
    const sheet = Sheets.of(part, player, request, engraved, remarks, played);
    pages.push({ kind: 'staff', item, title, role, played, sheet });
  }
  return { ...head, pages };
}
