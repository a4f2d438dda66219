import { HOP, PitchReader, WINDOW } from './pitch-frames.ts';
import { SungNotes } from './sung-notes.ts';

/** What the microphone is doing; `missing`: this page or device has none, `refused`: nobody allowed it. */
export type Hearing = 'off' | 'asking' | 'listening' | 'refused' | 'missing';

/** Browsers open a microphone only for pages that came over https, or from the device itself (W3C Media Capture, 10). */
function microphones(): MediaDevices | null {
  const { mediaDevices } = navigator as { mediaDevices?: MediaDevices };
  return typeof mediaDevices?.getUserMedia === 'function' ? mediaDevices : null;
}

/** Listens to a tune that is sung. The sound is looked at and forgotten at once: nothing is kept or sent but the notes. */
export class Singing {
  hearing = $state<Hearing>(microphones() ? 'off' : 'missing');
  /** The note that sounds now, C4 = 60; null: silence. */
  sounding = $state<number | null>(null);
  readonly #onnotes: (midis: readonly number[]) => void;
  #stop: (() => void) | null = null;

  constructor(onnotes: (midis: readonly number[]) => void) {
    this.#onnotes = onnotes;
  }

  async start(): Promise<void> {
    const devices = microphones();
    if (!devices || this.hearing === 'asking' || this.#stop) return;
    this.hearing = 'asking';
    try {
      // What makes speech clear for a call would bend a sung note.
      const audio = { echoCancellation: false, noiseSuppression: false, autoGainControl: false };
      this.#listen(await devices.getUserMedia({ audio }));
    } catch (error) {
      const isMissing = error instanceof DOMException && error.name === 'NotFoundError';
      this.hearing = isMissing ? 'missing' : 'refused';
    }
  }

  stop(): void {
    this.#stop?.();
    this.#stop = null;
    this.sounding = null;
    if (this.hearing === 'listening' || this.hearing === 'asking') this.hearing = 'off';
  }

  #listen(stream: MediaStream): void {
    const end = (): void => stream.getTracks().forEach((track) => track.stop());
    // The page was left while the browser asked.
    if (this.hearing !== 'asking') {
      end();
      return;
    }
    const context = new AudioContext();
    const analyser = new AnalyserNode(context, { fftSize: WINDOW });
    context.createMediaStreamSource(stream).connect(analyser);
    const [reader, sung, samples] = [new PitchReader(), new SungNotes(), new Float32Array(WINDOW)];
    let count = 0;
    const timer = setInterval(() => {
      analyser.getFloatTimeDomainData(samples);
      sung.push(reader.read(samples, context.sampleRate, context.currentTime));
      this.sounding = sung.sounding;
      const { notes } = sung;
      if (notes.length === count && count === 0) return;
      count = notes.length;
      this.#onnotes(notes.map(({ midi }) => midi));
    }, HOP);
    this.#stop = () => {
      clearInterval(timer);
      end();
      void context.close();
    };
    this.hearing = 'listening';
  }
}
