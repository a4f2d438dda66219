import { Fullness, KeysOfForm, type ArrangedPass, type Key } from '#music';
import type { ServiceItem } from '#server/contract/services.ts';
import type { ServicePage } from './service.svelte.ts';

/** A line of the order as the picture of the whole service draws it. */
export function staffItems(page: ServicePage) {
  return page.items.map((item, at) => {
    const line = page.sheet?.lines[at];
    return {
      id: item.id,
      title: page.titleOf(item),
      begins: line?.begins ?? null,
      minutes: line?.minutes ?? null,
      song: songOf(page, item),
      way: item.wayOn ?? '',
    };
  });
}

function songOf(page: ServicePage, item: ServiceItem) {
  const shelved = item.kind === 'song' ? page.shelf.find(item.song) : null;
  const key = page.keyOf(item);
  if (!shelved || !key) return null;
  const { score } = shelved.song;
  const arrangement = {
    key,
    tempo: shelved.arrangement.tempo,
    density: shelved.arrangement.density,
    form: knownPasses(item.form ?? shelved.arrangement.form, score.sections),
  };
  return {
    key: KeysOfForm.keyAtStart(arrangement, score),
    endKey: KeysOfForm.keyAtEnd(arrangement, score) satisfies Key,
    lead: page.nameOf(page.leadOf(item)),
    fullness: Fullness.fullnessOf({ score, arrangement }),
  };
}

/** Without passes through sections that are gone. */
function knownPasses(
  form: readonly ArrangedPass[] | null,
  sections: readonly { readonly id: string }[],
) {
  const known = form?.filter(({ section }) => sections.some(({ id }) => id === section));
  return known?.length ? known : null;
}
