import { failure, success, type Problem, type Result } from '../../result.ts';
import { readTrack, type SmfTrack } from './smf-track.ts';

/** What is read at once; a hymn has ten thousand bytes. */
export const MOST_BYTES = 4_000_000;
export const MOST_TRACKS = 256;

/** A Standard MIDI File (MIDI Manufacturers Association, Standard MIDI Files 1.0, RP-001). */
export interface Smf {
  readonly format: 0 | 1;
  /** Ticks of the file to a quarter. */
  readonly division: number;
  readonly tracks: readonly SmfTrack[];
}

/** Big-endian number of up to four bytes; those beyond the end count as 0. */
export function numberAt(bytes: Uint8Array, at: number, length: number): number {
  let value = 0;
  for (let i = 0; i < length; i += 1) value = value * 256 + (bytes[at + i] ?? 0);
  return value;
}

export function nameAt(bytes: Uint8Array, at: number): string {
  return String.fromCharCode(...bytes.subarray(at, at + 4));
}

/**
 * The chunks and tracks of a file, plain or inside a RIFF wrapper (RMID). Time is bounded by the bytes: each is looked at
 * once. What is damaged behind its beginning is said and left out.
 */
export function readSmf(input: Uint8Array): Result<Smf> {
  if (input.length > MOST_BYTES) {
    const message = `This file has ${String(input.length)} bytes; ${String(MOST_BYTES)} are the most that are read of a MIDI file.`;
    return failure({ code: 'file-too-large', message });
  }
  const bytes = unwrapped(input);
  if (bytes === null || nameAt(bytes, 0) !== 'MThd') {
    const message = 'This is not a MIDI file: it does not begin with the letters MThd.';
    return failure({ code: 'no-midi', message });
  }
  const length = numberAt(bytes, 4, 4);
  if (length < 6 || bytes.length < 14) {
    const message = 'The head of this MIDI file is cut off: it has no note lengths.';
    return failure({ code: 'midi-head', message });
  }
  const [format, count, division] = [8, 10, 12].map((at) => numberAt(bytes, at, 2));
  const refused = headProblem(format ?? 0, division ?? 0);
  if (refused) return failure(refused);
  const warnings: Problem[] = [];
  const tracks = chunks(bytes, 8 + length, warnings);
  if (tracks.length !== count && tracks.length <= MOST_TRACKS) {
    const message = `The file says that it has ${String(count)} tracks; ${String(tracks.length)} are in it.`;
    warnings.push({ code: 'track-count', message });
  }
  return success({ format: format === 0 ? 0 : 1, division: division ?? 1, tracks }, warnings);
}

function headProblem(format: number, division: number): Problem | null {
  if (format > 1) {
    const message = `This MIDI file is of format ${String(format)}; only formats 0 and 1, which hold one song, are read.`;
    return { code: 'midi-format', message };
  }
  if (division >= 0x8000) {
    const message =
      'This MIDI file counts seconds of film (SMPTE) and not beats, so it has no bars; save it with ticks to the beat.';
    return { code: 'midi-film-time', message };
  }
  if (division === 0) {
    return {
      code: 'midi-head',
      message: 'This MIDI file has 0 ticks to the beat, so no note has a length.',
    };
  }
  return null;
}

/** `RIFF … RMID … data …`: what the data chunk holds. Null: there is none. */
function unwrapped(bytes: Uint8Array): Uint8Array | null {
  if (nameAt(bytes, 0) !== 'RIFF') return bytes;
  if (nameAt(bytes, 8) !== 'RMID') return null;
  for (let at = 12; at + 8 <= bytes.length;) {
    const length = littleEndian(bytes, at + 4);
    if (nameAt(bytes, at) === 'data') return bytes.subarray(at + 8, at + 8 + length);
    at += 8 + length + (length % 2);
  }
  return null;
}

function littleEndian(bytes: Uint8Array, at: number): number {
  return [3, 2, 1, 0].reduce((value, i) => value * 256 + (bytes[at + i] ?? 0), 0);
}

function chunks(bytes: Uint8Array, from: number, warnings: Problem[]): SmfTrack[] {
  const tracks: SmfTrack[] = [];
  let unknown = 0;
  for (let at = from; at + 8 <= bytes.length;) {
    const length = numberAt(bytes, at + 4, 4);
    const body = bytes.subarray(at + 8, at + 8 + length);
    if (nameAt(bytes, at) !== 'MTrk') unknown += 1;
    else if (tracks.length < MOST_TRACKS) {
      tracks.push(readTrack(body, tracks.length, body.length < length, warnings));
    } else {
      const message = `Only the first ${String(MOST_TRACKS)} tracks of this file are read.`;
      warnings.push({ code: 'too-many-tracks', message });
      break;
    }
    at += 8 + length;
  }
  if (unknown > 0) {
    const message = `${String(unknown)} stretches of the file are no tracks and are left out, as the standard has it.`;
    warnings.push({ code: 'info-chunks', message });
  }
  return tracks;
}
