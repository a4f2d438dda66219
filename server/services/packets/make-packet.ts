import { PutBack } from '#music';
import type { PacketQuery } from '../../contract/packets.ts';
import type { PersonPages } from '../../contract/pages.ts';
import { BindingError, engravedFor, type Binder } from '../../render/packet/binder.ts';
import type { Renderer } from '../../render/renderer.ts';
import { makePages, type PersonPlan } from '../make-pages.ts';
import { sayWhen } from '../make-order-page.ts';
import { Refusal } from '../refusal.ts';
import type { See } from '../shown-names.ts';

/** One person's packet. */
export interface Packet {
  readonly bytes: Uint8Array;
  /** As whoever asks may know them. */
  readonly name: string;
}

export interface PacketMakers {
  readonly renderer: Renderer;
  readonly binder: Binder;
}

/** How many steps the packet of a person takes: its songs, and the binding. */
export function stepsOf({ service }: PersonPlan): number {
  return service.items.filter(({ kind }) => kind === 'song').length + 1;
}

function played(pages: PersonPages['pages']) {
  return pages.map((page) => (page.kind === 'staff' || page.kind === 'words' ? page : null));
}

/** Too much to do is no fault of ours; whatever else the binder says is one. */
function refused(error: unknown): unknown {
  if (!(error instanceof BindingError) || error.code === 'refused') return error;
  const why =
    error.code === 'busy' ? 'Many packets are being made' : 'The printing had to start anew';
  return new Refusal('packets-busy', `${why}. Nothing is lost; ask for this packet again.`);
}

/**
 * Engraves and binds what one person opens in a service.
 * @param onstep after each song and after the binding; what it throws ends the work
 */
export async function makePacket(
  { renderer, binder }: PacketMakers,
  plan: PersonPlan,
  { paper, print, verse, names, played: keys }: PacketQuery,
  see: See,
  onstep: () => void,
): Promise<Packet> {
  const wish = {
    ...engravedFor(paper, print),
    text: 1,
    names,
    ...(verse !== undefined && { verse }),
    ...(keys !== undefined && { played: keys }),
  };
  const { pages, person, service } = await makePages(plan, renderer, wish, see, onstep);
  try {
    const bytes = await binder.bind({
      paper,
      print,
      name: person.name,
      service: service.title,
      date: sayWhen(service),
      day: service.date,
      pages,
      before: PutBack.putBack(played(pages)),
    });
    onstep();
    return { bytes, name: person.name };
  } catch (error) {
    throw refused(error);
  }
}
