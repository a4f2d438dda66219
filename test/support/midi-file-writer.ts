import { writeMidi, type MidiEvent } from 'midi-file';

/** An event at a moment in ticks, for files that another writer (midi-file) makes. */
export type Timed = Readonly<{ at: number }> & Omit<MidiEvent, 'deltaTime'>;

/** A note of a track: `C4` is 60. */
export function played(channel: number, at: number, length: number, noteNumber: number): Timed[] {
  return [
    { at, type: 'noteOn', channel, noteNumber, velocity: 80 } as Timed,
    { at: at + length, type: 'noteOff', channel, noteNumber, velocity: 0 } as Timed,
  ];
}

export function text(
  at: number,
  type: 'trackName' | 'lyrics' | 'marker' | 'text',
  words: string,
): Timed {
  return { at, type, text: words } as Timed;
}

/** A Standard MIDI File of tracks with 480 ticks to the quarter, by midi-file's writer. */
export function smf(
  tracks: readonly (readonly Timed[])[],
  format: 0 | 1 = 1,
  ticksPerBeat = 480,
): Uint8Array {
  const made = tracks.map((events) => {
    let before = 0;
    const sorted = [...events].sort((a, b) => a.at - b.at || rank(a) - rank(b));
    const list = sorted.map(({ at, ...event }) => {
      const deltaTime = at - before;
      before = at;
      return { deltaTime, ...event } as MidiEvent;
    });
    list.push({ deltaTime: 0, type: 'endOfTrack' } as MidiEvent);
    return list;
  });
  const header = { format, numTracks: made.length, ticksPerBeat } as const;
  return Uint8Array.from(writeMidi({ header, tracks: made }));
}

const rank = ({ type }: Timed): number => (type === 'noteOff' ? 0 : type === 'noteOn' ? 2 : 1);
