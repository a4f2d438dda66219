import type { Trouble } from '#web/api/http.ts';

/** One line of music as a picture. */
export interface Line {
  readonly svg: string;
  /** CSS px. */
  readonly width: number;
  readonly height: number;
}

export interface Engraved<L extends Line = Line> {
  /** The outlines that the lines use: a hidden drawing that the page holds once. */
  readonly glyphs: string;
  readonly systems: readonly L[];
}

export type Engrave<E> = (
  signal: AbortSignal,
) => Promise<{ ok: true; value: E } | { ok: false; trouble: Trouble }>;

/** The music on the screen: what was asked for last wins, and the old stays until the new is there. */
export class Engraving<E> {
  current = $state.raw<E | null>(null);
  busy = $state(false);
  trouble = $state.raw<Trouble | null>(null);
  #running: AbortController | null = null;

  async show(engrave: Engrave<E>): Promise<void> {
    this.#running?.abort();
    const running = new AbortController();
    this.#running = running;
    this.busy = true;
    try {
      const answer = await engrave(running.signal);
      if (running.signal.aborted) return;
      this.trouble = answer.ok ? null : answer.trouble;
      if (answer.ok) this.current = answer.value;
      this.busy = false;
    } catch (error) {
      if (!running.signal.aborted) throw error;
    }
  }

  /** Takes from the screen what may no longer be shown. */
  refuse(trouble: Trouble): void {
    this.#running?.abort();
    this.busy = false;
    this.current = null;
    this.trouble = trouble;
  }
}
