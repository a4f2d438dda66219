import { onFromDevice } from '#web/api/ask-kept.ts';
import { router } from './router.svelte.ts';
import { sayInstant, today } from './dates.ts';

/** `09:42`; of another day `Saturday, 28 November 2026, 09:42`. */
function sayMoment(at: number): string {
  const words = sayInstant(new Date(at).toISOString());
  return today(new Date(at)) === today() ? (words.split(', ').at(-1) ?? words) : words;
}

/** What on the page that is open was kept by this device, because the server did not answer. */
class FromDevice {
  /** By path of the API: ms since 1970. */
  #came = $state.raw<Readonly<Record<string, number>>>({});
  #page = $state(router.path);

  constructor() {
    onFromDevice((path, came) => this.#hear(path.split('?')[0] ?? '', came));
  }

  /** From when the oldest of it is, ms since 1970; null: all of it came from the server. */
  readonly at = $derived.by(() => {
    const times = this.#page === router.path ? Object.values(this.#came) : [];
    return times.length > 0 ? Math.min(...times) : null;
  });
  /** When that was: `09:42`; empty: all of it came from the server. */
  readonly words = $derived(this.at === null ? '' : sayMoment(this.at));

  #hear(path: string, came: number | null): void {
    const before = this.#page === router.path ? this.#came : {};
    this.#page = router.path;
    const { [path]: _, ...others } = before;
    this.#came = came === null ? others : { ...others, [path]: came };
  }
}

export const fromDevice = new FromDevice();
