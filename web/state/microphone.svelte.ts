import { HOP, PitchReader, WINDOW } from './pitch-frames.ts';
import type { PitchFrame } from './sung-notes.ts';

/**
 * What the microphone is doing. `insecure`: the page came without https, `missing`: the device has none, `refused`:
 * nobody allowed it.
 */
export type Hearing = 'off' | 'asking' | 'listening' | 'refused' | 'missing' | 'insecure';

/** Browsers open a microphone only for pages that came over https, or from the device itself (W3C Media Capture, 10). */
function microphones(): MediaDevices | null {
  const { mediaDevices } = navigator as { mediaDevices?: MediaDevices };
  return typeof mediaDevices?.getUserMedia === 'function' ? mediaDevices : null;
}

/** What makes speech clear for a call would bend a sung note. */
const AS_IT_IS = { echoCancellation: false, noiseSuppression: false, autoGainControl: false };
/** No such device (W3C Media Capture, 10.3.1); another program has it, or it does not work. */
const IS_MISSING = ['NotFoundError', 'NotReadableError'];

/** Listens for the pitch of a voice. The sound is looked at and forgotten at once: nothing is kept or sent. */
export class Microphone {
  hearing = $state<Hearing>(microphones() ? 'off' : isSecureContext ? 'missing' : 'insecure');
  readonly #clear: number | undefined;
  readonly #onframe: (frame: PitchFrame) => void;
  #stop: (() => void) | null = null;

  /** @param clear how much a sound has to repeat itself to be a note, see `PitchReader` */
  constructor(onframe: (frame: PitchFrame) => void, clear?: number) {
    this.#onframe = onframe;
    this.#clear = clear;
  }

  async start(): Promise<void> {
    const devices = microphones();
    if (!devices || this.hearing === 'asking' || this.#stop) return;
    this.hearing = 'asking';
    try {
      this.#listen(await devices.getUserMedia({ audio: AS_IT_IS }));
    } catch (error) {
      const isMissing = error instanceof DOMException && IS_MISSING.includes(error.name);
      this.hearing = isMissing ? 'missing' : 'refused';
    }
  }

  stop(): void {
    this.#stop?.();
    this.#stop = null;
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
    const [reader, samples] = [new PitchReader(this.#clear), new Float32Array(WINDOW)];
    const timer = setInterval(() => {
      analyser.getFloatTimeDomainData(samples);
      this.#onframe(reader.read(samples, context.sampleRate, context.currentTime));
    }, HOP);
    this.#stop = () => {
      clearInterval(timer);
      end();
      void context.close();
    };
    this.hearing = 'listening';
  }
}
