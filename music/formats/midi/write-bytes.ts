/** One event of a track: its moment in ticks of the file, its place among those of one moment, its bytes. */
export interface Event {
  readonly at: number;
  readonly rank: number;
  readonly bytes: readonly number[];
}

/**
 * What comes first at one moment: texts and settings, then ends of notes, then the words, then beginnings, then the pedal,
 * which goes up only when the new notes sound.
 */
const RANK = { setting: 0, end: 1, words: 2, begin: 3, pedal: 4 } as const;
/** Control change 64, damper pedal: below 64 up, from there down (MIDI 1.0, table of control changes). */
const DAMPER = 64;

/** Kinds of text (RP-001). */
const TEXT = { text: 1, copyright: 2, name: 3, lyric: 5, marker: 6 } as const;
/** In ticks of the file; no event can be later than this after another (four sevens of bits). */
const LONGEST = 2 ** 28 - 1;

export function textEvent(at: number, kind: keyof typeof TEXT, text: string): Event {
  const rank = kind === 'lyric' ? RANK.words : RANK.setting;
  return { at, rank, bytes: meta(TEXT[kind], utf8(text)) };
}

export function tempoEvent(at: number, microseconds: number): Event {
  return setting(at, 0x51, [microseconds >> 16, (microseconds >> 8) & 255, microseconds & 255]);
}

/** `clocks` of 24 to the quarter make a click of the metronome. */
export function meterEvent(at: number, beats: number, unit: number, clocks: number): Event {
  return setting(at, 0x58, [beats, Math.log2(unit), clocks, 8]);
}

export function keyEvent(at: number, fifths: number, minor: boolean): Event {
  return setting(at, 0x59, [fifths & 255, minor ? 1 : 0]);
}

/** A note from one moment to another, as its two events. */
export function noteEvents(
  channel: number,
  midi: number,
  velocity: number,
  from: number,
  to: number,
): Event[] {
  return [
    { at: from, rank: RANK.begin, bytes: [0x90 + channel, midi, velocity] },
    { at: to, rank: RANK.end, bytes: [0x80 + channel, midi, 64] },
  ];
}

/** The sustaining pedal of a channel. */
export function pedalEvent(channel: number, isDown: boolean, at: number): Event {
  return { at, rank: RANK.pedal, bytes: [0xb0 + channel, DAMPER, isDown ? 127 : 0] };
}

/** @param program counted from 0 */
export function programEvent(channel: number, program: number): Event {
  return { at: 0, rank: RANK.setting, bytes: [0xc0 + channel, program] };
}

/** A chunk with all events in order, ended where the song ends. */
export function trackChunk(events: readonly Event[], end: number): Uint8Array {
  const sorted = [...events].sort((a, b) => a.at - b.at || a.rank - b.rank);
  const body: number[] = [];
  let at = 0;
  for (const event of [...sorted, { at: end, bytes: meta(0x2f, []) }]) {
    body.push(...variable(Math.min(LONGEST, Math.max(0, event.at - at))), ...event.bytes);
    at = Math.max(at, event.at);
  }
  return chunk('MTrk', body);
}

export function headChunk(tracks: number, division: number): Uint8Array {
  return chunk('MThd', [0, 1, tracks >> 8, tracks & 255, division >> 8, division & 255]);
}

export function joined(chunks: readonly Uint8Array[]): Uint8Array {
  const whole = new Uint8Array(chunks.reduce((sum, { length }) => sum + length, 0));
  let at = 0;
  for (const each of chunks) {
    whole.set(each, at);
    at += each.length;
  }
  return whole;
}

function setting(at: number, type: number, data: readonly number[]): Event {
  return { at, rank: RANK.setting, bytes: meta(type, data) };
}

function meta(type: number, data: readonly number[]): number[] {
  return [0xff, type, ...variable(data.length), ...data];
}

function chunk(name: string, body: readonly number[]): Uint8Array {
  const length = [24, 16, 8, 0].map((shift) => (body.length >> shift) & 255);
  return Uint8Array.from([...[...name].map((letter) => letter.charCodeAt(0)), ...length, ...body]);
}

/** A number in sevens of bits, the highest first. */
function variable(value: number): number[] {
  const bytes = [value & 127];
  for (let rest = value >> 7; rest > 0; rest >>= 7) bytes.unshift((rest & 127) | 128);
  return bytes;
}

/** RP-017 has ASCII only; programs of today read UTF-8, which is the same for ASCII. */
function utf8(text: string): number[] {
  const bytes: number[] = [];
  for (const sign of text) {
    const point = sign.codePointAt(0) ?? 0;
    const code = point >= 0xd800 && point < 0xe000 ? 0xfffd : point;
    if (code < 0x80) bytes.push(code);
    else if (code < 0x800) bytes.push(0xc0 | (code >> 6), 0x80 | (code & 63));
    else if (code < 0x10000)
      bytes.push(0xe0 | (code >> 12), 0x80 | ((code >> 6) & 63), 0x80 | (code & 63));
    else
      bytes.push(
        0xf0 | (code >> 18),
        0x80 | ((code >> 12) & 63),
        0x80 | ((code >> 6) & 63),
        0x80 | (code & 63),
      );
  }
  return bytes;
}
