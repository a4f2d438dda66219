import type { PacketRow } from '#server/contract/packets.ts';
import { makePacket, packetAddress, type PacketWish } from '#web/api/packets.ts';
import type { PagesOf } from '#web/api/pages.ts';
import { NamesOnDevice } from './note-names.svelte.ts';

type Paper = PacketWish['paper'];
type Print = PacketWish['print'];

export const PAPERS: readonly Paper[] = ['A4', 'Letter'];
export const PRINTS: readonly Print[] = ['usual', 'large'];

/** What is kept on this device: `Letter large`. */
const STORED = 'partbook.packets';

/** Letter where that is the paper of the country (common practice: North America, the Philippines and some others); else A4. */
function usualPaper(): Paper {
  return /-(US|CA|MX|PH|CL|CO)\b/i.test(navigator.language) ? 'Letter' : 'A4';
}

function stored(): { paper: Paper; print: Print } {
  try {
    const words = (localStorage.getItem(STORED) ?? '').split(' ');
    return {
      paper: PAPERS.find((each) => words.includes(each)) ?? usualPaper(),
      print: PRINTS.find((each) => words.includes(each)) ?? 'usual',
    };
  } catch {
    return { paper: usualPaper(), print: 'usual' };
  }
}

/** Where the connection ends before it is told that the file stands ready. */
const BROKEN = 'The connection broke before the packet was ready. Nothing is lost; make it again.';

/** Has one packet made at a time, says how far it is, and has the browser keep the file. */
export class PacketMaking {
  paper = $state<Paper>('A4');
  print = $state<Print>('usual');
  /** What notes are called on this device: a packet is made so. */
  readonly names = new NamesOnDevice();
  /** How far it is; null: none is being made. */
  progress = $state.raw<{ readonly done: number; readonly of: number } | null>(null);
  /** Why there is none, in a sentence; empty: nothing went wrong. */
  trouble = $state('');
  /** What was done last, for those who cannot see the page. */
  said = $state('');
  readonly #of: PagesOf;
  readonly #keep: (address: string) => void;
  #stop: AbortController | null = null;

  /** @param keep has the browser fetch a file and keep it */
  constructor(
    of: PagesOf,
    keep: (address: string) => void = (address) => location.assign(address),
  ) {
    this.#of = of;
    this.#keep = keep;
    Object.assign(this, stored());
  }

  choose(change: { paper?: Paper; print?: Print }): void {
    Object.assign(this, change);
    try {
      localStorage.setItem(STORED, `${this.paper} ${this.print}`);
    } catch {
      // Without storage the choice lasts as long as the page.
    }
  }

  /**
   * @param member whose; null: everybody's
   * @param as how one person has their sheets open
   */
  async make(
    member: string | null,
    as: Pick<PacketWish, 'verse' | 'played' | 'names'> = {},
  ): Promise<void> {
    if (this.#stop) return;
    const wish = { paper: this.paper, print: this.print, names: this.names.chosen, ...as };
    const stop = new AbortController();
    this.#stop = stop;
    [this.progress, this.trouble, this.said] = [{ done: 0, of: 0 }, '', ''];
    let isReady = false;
    const onrow = (row: PacketRow): void => {
      if ('problem' in row) this.trouble = row.problem.detail;
      else if ('bytes' in row) isReady = true;
      else this.progress = row;
    };
    try {
      const answer = await makePacket(this.#of, member, wish, onrow, stop.signal);
      if (!answer.ok) this.trouble = answer.trouble.message;
      else if (!isReady && this.trouble === '') this.trouble = BROKEN;
    } catch {
      this.said = 'Stopped; no packet was made.';
    } finally {
      [this.progress, this.#stop] = [null, null];
    }
    if (!isReady || stop.signal.aborted) return;
    this.said = 'The packet is ready.';
    this.#keep(packetAddress(this.#of, member, wish));
  }

  cancel(): void {
    this.#stop?.abort();
  }
}
