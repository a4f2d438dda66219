/** A key of a MIDI keyboard, struck or let go. */
export interface MidiKey {
  /** Semitones, C4 = 60. */
  readonly midi: number;
  readonly down: boolean;
  /** Milliseconds on the clock of the page (High Resolution Time). */
  readonly at: number;
}

const NOTE_OFF = 0x80;
const NOTE_ON = 0x90;

/** The key of a message; null: it is about something else (MIDI 1.0: status, note, velocity; velocity 0 lets go). */
export function keyOf(data: Uint8Array | null | undefined, at: number): MidiKey | null {
  const [status = 0, midi = 0, velocity = 0] = data ?? [];
  const kind = status & 0xf0;
  if (kind !== NOTE_ON && kind !== NOTE_OFF) return null;
  return { midi, down: kind === NOTE_ON && velocity > 0, at };
}

/** Keys struck within so many ms of each other, while the first is held, are one chord (ours). */
const TOGETHER = 80;

/** Tells a note from one that joins the note before it. */
export class InStep {
  readonly #held = new Set<number>();
  #last = -Infinity;

  /** null: a key was let go. */
  hear({ midi, down, at }: MidiKey): { midi: number; add: boolean } | null {
    if (!down) {
      this.#held.delete(midi);
      return null;
    }
    const add = this.#held.size > 0 && at - this.#last <= TOGETHER;
    this.#held.add(midi);
    this.#last = at;
    return { midi, add };
  }
}

/** Whether the browser lets a page hear MIDI keyboards. */
export const hasMidi = (): boolean => 'requestMIDIAccess' in navigator;

/** The MIDI keyboards at this device (Web MIDI), asked for when someone wants to play. */
export class MidiKeyboard {
  state = $state<'off' | 'asking' | 'refused' | 'on'>('off');
  /** As their makers call them. */
  names = $state.raw<readonly string[]>([]);
  readonly #onkey: (key: MidiKey) => void;
  #access: MIDIAccess | null = null;
  /** Which time it was asked for. */
  #asked = 0;
  #inputs: readonly MIDIInput[] = [];

  constructor(onkey: (key: MidiKey) => void) {
    this.#onkey = onkey;
  }

  async listen(): Promise<void> {
    if (this.state === 'on' || this.state === 'asking') return;
    this.state = 'asking';
    const asked = (this.#asked += 1);
    try {
      const access = await navigator.requestMIDIAccess();
      // Whoever let go in the meantime is not listened to.
      if (asked !== this.#asked) return;
      this.#access = access;
      this.#access.addEventListener('statechange', this.#connect);
      this.state = 'on';
      this.#connect();
    } catch {
      if (asked === this.#asked) this.state = 'refused';
    }
  }

  stop(): void {
    this.#asked += 1;
    this.#access?.removeEventListener('statechange', this.#connect);
    for (const input of this.#inputs) input.removeEventListener('midimessage', this.#hear);
    [this.#inputs, this.names] = [[], []];
    this.state = 'off';
  }

  #connect = (): void => {
    for (const input of this.#inputs) input.removeEventListener('midimessage', this.#hear);
    this.#inputs = [...(this.#access?.inputs.values() ?? [])];
    for (const input of this.#inputs) input.addEventListener('midimessage', this.#hear);
    this.names = this.#inputs.map(({ name }) => name ?? 'a keyboard');
  };

  #hear = (event: Event): void => {
    const key = keyOf((event as MIDIMessageEvent).data, event.timeStamp);
    if (key) this.#onkey(key);
  };
}
