import { Pitches } from '#music';

/** Recorded notes by their MIDI number, mono, at their own pitch. */
export type Recordings = ReadonlyMap<number, AudioBuffer>;

/** A4 = 440 Hz (ISO 16). */
export function frequencyOf(midi: number): number {
  return 440 * 2 ** ((midi - 69) / 12);
}

/** MIDI number of a recording's name, where `s` stands for a sharp: `Ds4` → 63. */
export function midiOfRecording(name: string): number {
  return Pitches.midiOf(name.replace('s', '#'));
}

/** The recording that has to be bent least. */
export function nearestRecording(
  recordings: Recordings,
  midi: number,
): [number, AudioBuffer] | null {
  let best: [number, AudioBuffer] | null = null;
  for (const [recorded, buffer] of recordings) {
    if (!best || Math.abs(recorded - midi) < Math.abs(best[0] - midi)) best = [recorded, buffer];
  }
  return best;
}

/** One channel, at most `seconds` long, with a soft end: a whole recording in stereo would fill a tablet. */
export function trimmed(
  context: BaseAudioContext,
  buffer: AudioBuffer,
  seconds: number,
): AudioBuffer {
  const length = Math.min(buffer.length, Math.floor(seconds * buffer.sampleRate));
  const mono = context.createBuffer(1, length, buffer.sampleRate);
  const out = mono.getChannelData(0);
  for (let channel = 0; channel < buffer.numberOfChannels; channel += 1) {
    const data = buffer.getChannelData(channel);
    for (let i = 0; i < length; i += 1)
      out[i] = (out[i] ?? 0) + (data[i] ?? 0) / buffer.numberOfChannels;
  }
  const fade = Math.min(length, Math.floor(buffer.sampleRate / 2));
  for (let i = 0; i < fade; i += 1) {
    const at = length - fade + i;
    out[at] = (out[at] ?? 0) * (1 - i / fade);
  }
  return mono;
}

/** Lets a sounding note go, now or at a moment on the device's clock (seconds). */
export type Release = (at?: number) => void;

/**
 * Sounds a note from now on, or from a moment on the device's clock, until it is released: the nearest recording at the
 * speed that gives the pitch, or a soft oscillator while there is none.
 * @param level loudness, 0–1
 */
export function sound(
  context: BaseAudioContext,
  recordings: Recordings,
  midi: number,
  now: number = context.currentTime,
  level = 1,
): Release {
  const gain = context.createGain();
  gain.connect(context.destination);
  const nearest = nearestRecording(recordings, midi);
  let source: AudioScheduledSourceNode;
  if (nearest) {
    const player = context.createBufferSource();
    player.buffer = nearest[1];
    player.playbackRate.value = 2 ** ((midi - nearest[0]) / 12);
    gain.gain.value = 0.9 * level;
    source = player;
  } else {
    const oscillator = context.createOscillator();
    oscillator.type = 'triangle';
    oscillator.frequency.value = frequencyOf(midi);
    gain.gain.setValueAtTime(0, now);
    gain.gain.linearRampToValueAtTime(0.25 * level, now + 0.015);
    gain.gain.setTargetAtTime(0.08 * level, now + 0.015, 0.6);
    source = oscillator;
  }
  source.connect(gain);
  source.start(now);
  return (at = context.currentTime) => {
    gain.gain.cancelScheduledValues(at);
    gain.gain.setTargetAtTime(0, at, 0.09);
    source.stop(at + 0.8);
  };
}
