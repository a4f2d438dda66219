import { integer, pick, type Chance } from '#test/support/chance.ts';

/** A kind of damage to the bytes of a MIDI file; whether its song is still read is the reader's to say. */
export interface MidiDamage {
  readonly what: string;
  readonly outcome: 'refused' | 'told' | 'same' | 'value';
  readonly make: (bytes: Uint8Array, chance: Chance) => Uint8Array;
}

const HEAD = 14;

/** Where the chunks begin. */
function chunks(bytes: Uint8Array): number[] {
  const starts: number[] = [];
  for (let at = HEAD; at + 8 <= bytes.length;) {
    starts.push(at);
    at += 8 + size(bytes, at + 4);
  }
  return starts;
}

function size(bytes: Uint8Array, at: number): number {
  return new DataView(bytes.buffer, bytes.byteOffset).getUint32(at);
}

function withSize(bytes: Uint8Array, at: number, value: number): Uint8Array {
  const changed = bytes.slice();
  new DataView(changed.buffer).setUint32(at, value);
  return changed;
}

const joined = (...parts: readonly (Uint8Array | readonly number[])[]): Uint8Array =>
  Uint8Array.from(parts.flatMap((part) => [...part]));

const set =
  (at: number, ...values: readonly number[]) =>
  (bytes: Uint8Array): Uint8Array => {
    const changed = bytes.slice();
    changed.set(values, at);
    return changed;
  };

const track = (body: readonly number[]): Uint8Array =>
  joined(
    [0x4d, 0x54, 0x72, 0x6b],
    [24, 16, 8, 0].map((shift) => (body.length >> shift) & 255),
    body,
  );

/** A chunk of a voice, with notes: any but the first. */
const voice = (bytes: Uint8Array, chance: Chance): number => pick(chance, chunks(bytes).slice(1));

/** Some bytes behind the head, each another one. */
function flipped(bytes: Uint8Array, chance: Chance, share: number, from = HEAD): Uint8Array {
  return bytes.map((byte, i) => (i >= from && chance() < share ? integer(chance, 0, 255) : byte));
}

/** Something put into the middle of a track, whose length is set right. */
const inTrack =
  (make: (chance: Chance) => readonly number[]) =>
  (bytes: Uint8Array, chance: Chance): Uint8Array => {
    const start = voice(bytes, chance);
    const length = size(bytes, start + 4);
    const at = start + 8 + integer(chance, 0, length - 4);
    const put = make(chance);
    return withSize(
      joined(bytes.subarray(0, at), put, bytes.subarray(at)),
      start + 4,
      length + put.length,
    );
  };

/** A track of strokes that are never let go, or let go at once. */
const strokes = (count: number, each: (i: number) => readonly number[]): Uint8Array =>
  track([...Array.from({ length: count }, (_, i) => each(i)), [0, 0xff, 0x2f, 0]].flat());

export const MIDI_DAMAGES: readonly MidiDamage[] = [
  { what: 'no head', outcome: 'refused', make: (bytes) => bytes.subarray(HEAD) },
  { what: 'a head of four bytes', outcome: 'refused', make: (bytes) => bytes.subarray(0, 4) },
  { what: 'a head that is cut off', outcome: 'refused', make: (bytes) => bytes.subarray(0, 13) },
  { what: 'no tracks', outcome: 'refused', make: (bytes) => bytes.subarray(0, HEAD) },
  { what: 'format 2', outcome: 'refused', make: set(8, 0, 2) },
  { what: 'a format that is none', outcome: 'refused', make: set(8, 0xff, 0xff) },
  { what: 'film time', outcome: 'refused', make: set(12, 0xe7, 40) },
  { what: 'no ticks to the beat', outcome: 'refused', make: set(12, 0, 0) },
  { what: 'one tick to the beat', outcome: 'value', make: set(12, 0, 1) },
  { what: 'a count of 65,535 tracks', outcome: 'told', make: set(10, 0xff, 0xff) },
  { what: 'a count of no tracks', outcome: 'told', make: set(10, 0, 0) },
  {
    what: 'a head of four milliard bytes',
    outcome: 'refused',
    make: set(4, 0xff, 0xff, 0xff, 0xff),
  },
  {
    what: 'cut off in the last track',
    outcome: 'told',
    make: (bytes, chance) => {
      const last = chunks(bytes).at(-1) ?? HEAD;
      return bytes.subarray(0, integer(chance, last + 12, bytes.length - 2));
    },
  },
  {
    what: 'cut off anywhere',
    outcome: 'value',
    make: (bytes, chance) => bytes.subarray(0, integer(chance, 0, bytes.length - 1)),
  },
  {
    what: 'a track of four milliard bytes',
    outcome: 'value',
    make: (bytes, chance) => withSize(bytes, voice(bytes, chance) + 4, 0xffffffff),
  },
  {
    what: 'a track whose length is a little wrong',
    outcome: 'value',
    make: (bytes, chance) => {
      const at = voice(bytes, chance) + 4;
      return withSize(bytes, at, Math.max(0, size(bytes, at) + integer(chance, -9, 9)));
    },
  },
  {
    what: 'a track without its end',
    outcome: 'told',
    make: (bytes) => {
      const last = chunks(bytes).at(-1) ?? HEAD;
      return withSize(bytes.subarray(0, bytes.length - 4), last + 4, size(bytes, last + 4) - 4);
    },
  },
  {
    what: 'a chunk that no standard knows',
    outcome: 'told',
    make: (bytes) =>
      joined(
        bytes.subarray(0, HEAD),
        [0x58, 0x59, 0x5a, 0x20, 0, 0, 0, 3, 1, 2, 3],
        bytes.subarray(HEAD),
      ),
  },
  {
    what: 'rubbish behind the end',
    outcome: 'same',
    make: (bytes, chance) =>
      joined(
        bytes,
        Array.from({ length: 7 }, () => integer(chance, 0, 255)),
      ),
  },
  {
    what: 'a RIFF wrapper',
    outcome: 'same',
    make: (bytes) =>
      joined(
        [0x52, 0x49, 0x46, 0x46, 0, 0, 0, 0, 0x52, 0x4d, 0x49, 0x44, 0x64, 0x61, 0x74, 0x61],
        [0, 8, 16, 24].map((shift) => (bytes.length >> shift) & 255),
        bytes,
      ),
  },
  {
    what: 'a RIFF wrapper without data',
    outcome: 'refused',
    make: () =>
      joined([
        0x52, 0x49, 0x46, 0x46, 0, 0, 0, 0, 0x52, 0x4d, 0x49, 0x44, 0x78, 0x78, 0x78, 0x78, 0xff,
        0xff, 0xff, 0xff,
      ]),
  },
  {
    what: 'a status byte that is none',
    outcome: 'told',
    make: inTrack((chance) => [0, pick(chance, [0xf1, 0xf4, 0xf8, 0xfe]), 0]),
  },
  {
    what: 'a time without an end',
    outcome: 'told',
    make: inTrack(() => [0xff, 0xff, 0xff, 0xff, 0xff, 0x90, 60, 60]),
  },
  {
    what: 'a text of 200 million letters',
    outcome: 'told',
    make: inTrack(() => [0, 0xff, 1, 0xdf, 0xaf, 0x88, 0x00]),
  },
  {
    what: 'an event of a system that never ends',
    outcome: 'told',
    make: inTrack(() => [0, 0xf0, 0xff, 0xff, 0xff, 0x7f]),
  },
  {
    what: 'a note a year later',
    outcome: 'value',
    make: inTrack(() => [0xff, 0xff, 0xff, 0x7f, 0x90, 60, 60]),
  },
  {
    what: 'a meter of 0/1',
    outcome: 'value',
    make: inTrack(() => [0, 0xff, 0x58, 4, 0, 0, 24, 8]),
  },
  {
    what: 'a meter of 255 over 2 to the 255th',
    outcome: 'value',
    make: inTrack(() => [0, 0xff, 0x58, 4, 255, 255, 24, 8]),
  },
  {
    what: 'a tempo of nothing',
    outcome: 'value',
    make: inTrack(() => [0, 0xff, 0x51, 3, 0, 0, 0]),
  },
  { what: 'a key of 99 sharps', outcome: 'value', make: inTrack(() => [0, 0xff, 0x59, 2, 99, 7]) },
  {
    what: 'words in bytes that are no letters',
    outcome: 'value',
    make: inTrack((chance) => [
      0,
      0xff,
      5,
      6,
      ...Array.from({ length: 6 }, () => integer(chance, 0, 255)),
    ]),
  },
  {
    what: 'a hundredth of the bytes other ones',
    outcome: 'value',
    make: (bytes, chance) => flipped(bytes, chance, 0.01),
  },
  {
    what: 'a tenth of the bytes other ones',
    outcome: 'value',
    make: (bytes, chance) => flipped(bytes, chance, 0.1),
  },
  {
    what: 'nothing but chance behind the head',
    outcome: 'value',
    make: (bytes, chance) => flipped(bytes, chance, 1),
  },
  {
    what: 'nothing but zeros behind the head',
    outcome: 'refused',
    make: (bytes) => bytes.map((byte, i) => (i < HEAD ? byte : 0)),
  },
  {
    what: 'sixty thousand notes at one moment',
    outcome: 'value',
    make: (bytes) =>
      joined(
        bytes,
        strokes(60_000, (i) => [0, 0x90, i % 128, 64]),
      ),
  },
  {
    what: 'forty thousand short notes on every sixteenth',
    outcome: 'value',
    make: (bytes) =>
      joined(
        bytes,
        strokes(20_000, (i) => [30, 0x90, 40 + (i % 50), 64, 30, 40 + (i % 50), 0]),
      ),
  },
  {
    what: 'a long chord that is struck again and again',
    outcome: 'value',
    make: (bytes) =>
      joined(
        bytes,
        strokes(20_000, (i) => [i % 3, 0x90, 30 + (i % 60), 64]),
      ),
  },
  {
    what: 'five hundred tracks',
    outcome: 'value',
    make: (bytes) =>
      joined(
        bytes,
        ...Array.from({ length: 500 }, () => track([0, 0x90, 60, 64, 96, 60, 0, 0, 0xff, 0x2f, 0])),
      ),
  },
  {
    what: 'twenty thousand meters',
    outcome: 'value',
    make: (bytes) =>
      joined(
        bytes,
        strokes(20_000, (i) => [1, 0xff, 0x58, 2, 1 + (i % 9), 6]),
      ),
  },
];
