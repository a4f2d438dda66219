import { Microphone } from './microphone.svelte.ts';
import { SungNotes } from './sung-notes.ts';

/** Listens to a tune that is sung. Nothing is kept or sent but the notes. */
export class Singing {
  /** The note that sounds now, C4 = 60; null: silence. */
  sounding = $state<number | null>(null);
  readonly #microphone: Microphone;
  #sung = new SungNotes();
  #count = 0;

  constructor(onnotes: (midis: readonly number[]) => void) {
    this.#microphone = new Microphone((frame) => {
      this.#sung.push(frame);
      this.sounding = this.#sung.sounding;
      const { notes } = this.#sung;
      if (notes.length === this.#count && this.#count === 0) return;
      this.#count = notes.length;
      onnotes(notes.map(({ midi }) => midi));
    });
  }

  get hearing(): Microphone['hearing'] {
    return this.#microphone.hearing;
  }

  /** Begins with a new tune. */
  async start(): Promise<void> {
    if (this.hearing === 'listening') return;
    [this.#sung, this.#count] = [new SungNotes(), 0];
    await this.#microphone.start();
  }

  stop(): void {
    this.#microphone.stop();
    this.sounding = null;
  }
}
