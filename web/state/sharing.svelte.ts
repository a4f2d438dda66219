import type { SetLink, SetLinkChange } from '#server/contract/links.ts';
import type { Trouble } from '#web/api/http.ts';
import { changeLink, findAddresses, listLinks, makeLink } from '#web/api/links.ts';
import { addDays, sayEnd } from './dates.ts';
import { notices } from './notice.svelte.ts';

/** A name by which only the machine itself is called (RFC 6761, 6.3; RFC 1122, 3.2.1.3; RFC 4291, 2.5.3). */
export function isOwnName(hostname: string): boolean {
  return /^(localhost|.*\.localhost|127(\.\d+){3}|\[?::1\]?)$/i.test(hostname);
}

/**
 * The address a link is given: that of this page where others can reach it, else the likeliest of the server's.
 * @returns `reaches` false: only this machine can open it
 */
export function originFor(
  here: { readonly hostname: string; readonly origin: string },
  origins: readonly string[],
): { readonly origin: string; readonly reaches: boolean } {
  if (!isOwnName(here.hostname)) return { origin: here.origin, reaches: true };
  const [first] = origins;
  return { origin: first ?? here.origin, reaches: first !== undefined };
}

/** The set links of a service. The secret of a new one is known to this page alone, and only while it is open. */
export class Sharing {
  readonly service: string;
  /** null: not there yet. */
  links = $state.raw<readonly SetLink[] | null>(null);
  trouble = $state.raw<Trouble | null>(null);
  busy = $state(false);
  marksRanges = $state(false);
  /** The whole addresses, by the link's id. */
  #paths = $state.raw<ReadonlyMap<string, string>>(new Map());
  #origins = $state.raw<readonly string[]>([]);

  constructor(service: string) {
    this.service = service;
  }

  readonly from = $derived(originFor(location, this.#origins));
  /** The link that was made last on this page, with its address. */
  readonly made = $derived.by(() => {
    const link = this.links?.findLast(({ id, state }) => this.#paths.has(id) && state === 'open');
    return link ? { link, address: this.from.origin + (this.#paths.get(link.id) ?? '') } : null;
  });

  async load(): Promise<void> {
    const [links, addresses] = await Promise.all([listLinks(this.service), findAddresses()]);
    this.trouble = links.ok ? null : links.trouble;
    if (links.ok) this.links = links.value.links;
    if (addresses.ok) this.#origins = addresses.value.origins;
  }

  async make(): Promise<void> {
    if (this.busy) return;
    this.busy = true;
    const answer = await makeLink(this.service, { marksRanges: this.marksRanges });
    this.busy = false;
    this.trouble = answer.ok ? null : answer.trouble;
    if (!answer.ok) return;
    const { link, path } = answer.value;
    this.#paths = new Map(this.#paths).set(link.id, path);
    this.links = [...(this.links ?? []), link];
    notices.say('The set link is made. Its secret is shown now and never again.');
  }

  revoke(link: SetLink): Promise<void> {
    return this.#change(link, { revoked: true }, 'The link is taken back: it opens nothing now.', {
      revoked: false,
    });
  }

  reopen(link: SetLink): Promise<void> {
    return this.#change(link, { revoked: false }, 'The link opens the service again.', {
      revoked: true,
    });
  }

  /** A week from its end, or from today where that is past. */
  longer(link: SetLink): Promise<void> {
    const [end, today] = [link.endsAt.slice(0, 10), new Date().toISOString().slice(0, 10)];
    const endsAt = addDays(end < today ? today : end, 7) + link.endsAt.slice(10);
    const words = `The link is open until ${sayEnd(endsAt)}.`;
    return this.#change(link, { endsAt }, words, { endsAt: link.endsAt });
  }

  letMark(link: SetLink, marksRanges: boolean): Promise<void> {
    const words = marksRanges
      ? 'Those who open it may mark their comfortable range.'
      : 'Those who open it may not mark a range.';
    return this.#change(link, { marksRanges }, words, { marksRanges: link.marksRanges });
  }

  async #change(
    { id }: SetLink,
    change: SetLinkChange,
    words: string,
    back: SetLinkChange | null,
  ): Promise<void> {
    // The version as it is now: an undo comes after the change.
    const link = this.links?.find((each) => each.id === id);
    if (!link) return;
    const answer = await changeLink(id, link.version, change);
    if (!answer.ok) {
      if (answer.trouble.status === 412) await this.load();
      const now = this.links?.find((each) => each.id === id);
      // Its end moves with the service, which is no reason not to shut it.
      if (now && now.version !== link.version && change.revoked === true)
        return this.#change(now, change, words, back);
      notices.say(answer.trouble.message);
      return;
    }
    this.links = (this.links ?? []).map((each) => (each.id === id ? answer.value : each));
    notices.say(words, back && (() => this.#change(link, back, 'Taken back.', null)));
  }
}
