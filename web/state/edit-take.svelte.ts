import { Editing, Pitches, Time, type Edit, type Letter, type PitchName, type Score } from '#music';
import { Click, type ClickDevice } from './edit-click.ts';
import { commandOf } from './edit-keys.ts';
import type { MidiKey } from './edit-midi.svelte.ts';
import { reachedFrom, signatureAt, type Hand } from './edit-place.ts';
import { nearest } from './edit-pitches.ts';
import { editsOf, propose, type Fineness, type Proposal, type Struck } from './edit-proposal.ts';

/** Where sound and keys meet: the clock of the audio device against the clock of the page. */
export interface TakeDevice extends ClickDevice {
  /** ms on the clock of the page at which something on the audio clock is heard. */
  readonly heardAt: (seconds: number) => number;
}

/** Clicks a minute, about as a metronome has them (common practice: 40 to 208). */
export const SLOWEST_CLICK = 30;
export const FASTEST_CLICK = 240;

/** Clocks are compared so often before the middle is taken: every 60 ms, half a second (ours). */
const READINGS = 9;

/** The song that is played into, and where. */
export interface WrittenInto {
  readonly score: Score | null;
  readonly hand: Hand;
  edit(edits: readonly Edit[], options: { readonly words: string; readonly hand: Hand }): boolean;
  refuse(words: string): void;
}

/** Playing along a click: a bar is counted in, what is played is put on the grid and shown, and one says yes or no to it. */
export class Take {
  state = $state<'idle' | 'playing' | 'proposed'>('idle');
  /** As it is set; a field that is empty makes it null. */
  perMinute = $state<number | null>(72);
  fineness = $state<Fineness>('quarters');
  /** Beats since the count-in; negative while it lasts. */
  beat = $state(0);
  #struck = $state.raw<readonly Struck[]>([]);
  /** ms from click to click, as it was played. */
  #beatMs = $state(60_000 / 72);
  readonly #editor: WrittenInto;
  readonly #device: () => TakeDevice;
  #click: Click | null = null;
  #timer: ReturnType<typeof setInterval> | undefined;
  /** ms on the clock of the page at which the bar after the count-in is heard, and what it was last read as. */
  #begins = 0;
  #readings: readonly number[] = [];
  readonly #down = new Map<number, number>();
  /** Letter keys that are held, and what they sound. */
  readonly #letters = new Map<Letter, number>();
  #before: PitchName | null = null;

  readonly proposal: Proposal | null = $derived.by(() => {
    const { score, hand } = this.#editor;
    if (this.state !== 'proposed' || !score) return null;
    return propose(this.#struck, score, hand, this.#beatMs, this.fineness);
  });

  /** The song with it; null where it cannot be written so. */
  readonly preview: Score | null = $derived.by(() => {
    const { score, hand } = this.#editor;
    if (!this.proposal || !score) return null;
    let next = score;
    for (const edit of editsOf(this.proposal, score, hand)) {
      const done = Editing.apply(next, edit);
      if (!done.ok) return null;
      next = done.value;
    }
    return next;
  });

  constructor(editor: WrittenInto, device: () => TakeDevice) {
    this.#editor = editor;
    this.#device = device;
  }

  start(): void {
    const { score, hand } = this.#editor;
    if (!score) return;
    const perMinute = this.perMinute ?? NaN;
    if (!(perMinute >= SLOWEST_CLICK && perMinute <= FASTEST_CLICK)) {
      this.#editor.refuse(`The click is between ${SLOWEST_CLICK} and ${FASTEST_CLICK} a minute.`);
      return;
    }
    this.#halt();
    this.#beatMs = 60_000 / perMinute;
    [this.#struck, this.state] = [[], 'playing'];
    this.#down.clear();
    this.#letters.clear();
    this.#before = null;
    const meter = Time.meterAt(score, Math.max(0, Math.min(hand.at, Time.endOf(score) - 1)));
    const bar = Time.barLength(meter) ?? Time.unitTicks(meter.unit) * 4;
    const beatsPerBar = Math.max(1, Math.round(bar / Time.feltBeat(meter)));
    const device = this.#device();
    this.#click = new Click({ beatsPerBar, perMinute }, device);
    this.beat = -beatsPerBar;
    this.#readings = [];
    this.#tick(device);
    this.#timer = setInterval(() => this.#tick(device), 60);
  }

  /**
   * Counts, and while the bar is counted in sets the clocks against each other: an audio device that is only being
   * started stands still for a while, and goes on in steps. The middle one of the last readings is taken.
   */
  #tick(device: TakeDevice): void {
    const click = this.#click;
    if (!click) return;
    this.beat = Math.floor(click.beat);
    if (click.beat >= 0 && this.#readings.length > 0) return;
    this.#readings = [...this.#readings, device.heardAt(click.begins)].slice(-READINGS);
    this.#begins = this.#readings.toSorted((a, b) => a - b)[this.#readings.length >> 1] ?? 0;
  }

  /** A key of a MIDI keyboard, or one of the computer's in its place. */
  hear({ midi, down, at }: MidiKey): void {
    if (this.state !== 'playing') return;
    const began = this.#down.get(midi);
    if (began !== undefined) {
      this.#down.delete(midi);
      this.#struck = [...this.#struck, { midi, at: began - this.#begins, end: at - this.#begins }];
    }
    // What is struck in the count-in, up to half a beat before the bar, is only trying.
    if (down && at - this.#begins > -this.#beatMs / 2) this.#down.set(midi, at);
  }

  /** A key of the computer while it is played along: letters sound as long as they are held, Enter or Escape ends it. */
  key(event: KeyboardEvent, down: boolean): boolean {
    if (this.state !== 'playing') return false;
    const command = commandOf({ key: event.key });
    if (down && (event.key === 'Enter' || event.key === 'Escape')) this.stop(event.timeStamp);
    else if (command?.to === 'letter') this.letter(command.letter, down, event.timeStamp);
    else return false;
    event.preventDefault();
    return true;
  }

  /** A letter key of the computer in a keyboard's place: the nearest note of that name to the one before. */
  letter(letter: Letter, down: boolean, at: number): void {
    const held = this.#letters.get(letter);
    if (held !== undefined && !down) {
      this.#letters.delete(letter);
      this.hear({ midi: held, down, at });
    }
    const { score, hand } = this.#editor;
    if (!down || held !== undefined || !score) return;
    const pitch = nearest(letter, this.#before ?? reachedFrom(score, hand), signatureAt(score, hand)); // prettier-ignore
    this.#before = pitch;
    this.#letters.set(letter, Pitches.midiOf(pitch));
    this.hear({ midi: Pitches.midiOf(pitch), down, at });
  }

  /** @param now ms on the clock of the page */
  stop(now: number): void {
    for (const midi of [...this.#down.keys()]) this.hear({ midi, down: false, at: now });
    this.#halt();
    this.state = this.#struck.length > 0 ? 'proposed' : 'idle';
    if (this.state === 'idle') this.#editor.refuse('No key was heard.');
  }

  accept(): void {
    const { score, hand } = this.#editor;
    if (!this.proposal || !score) return;
    const edits = editsOf(this.proposal, score, hand);
    const last = this.proposal.notes.at(-1);
    const at = last ? last.at + last.length : hand.at;
    const count = this.proposal.notes.length;
    const words = `what was played, ${count} ${count === 1 ? 'note' : 'notes'}`;
    if (this.#editor.edit(edits, { words, hand: { ...hand, at } })) this.drop();
  }

  drop(): void {
    this.#halt();
    [this.state, this.#struck] = ['idle', []];
  }

  #halt(): void {
    this.#click?.stop();
    clearInterval(this.#timer);
    this.#click = null;
  }
}

let context: AudioContext | null = null;

/** The device of this page. What is heard comes later than its clock says, by the way to the loudspeaker. */
export function takeDevice(device: (context: AudioContext) => ClickDevice): TakeDevice {
  const audio = (context ??= new AudioContext());
  void audio.resume();
  return {
    ...device(audio),
    heardAt: (seconds) =>
      performance.now() + (seconds - audio.currentTime + (audio.outputLatency || 0)) * 1000,
  };
}
