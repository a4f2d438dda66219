import { parseMidi } from 'midi-file';
import { Pitches, QUARTER, Time, type Score, type Voice } from '#music';

/** A track as a program hears it that knows nothing of us: by the parser of midi-file 1.2.4, which shares no code with ours. */
export interface Heard {
  readonly name: string;
  /** 0–15; 9 is the drums. */
  readonly channel: number;
  readonly notes: readonly HeardNote[];
  /** Moment and text of each lyric event. */
  readonly words: readonly string[];
  readonly texts: readonly string[];
}

/** Moments in ticks of the score. */
export interface HeardNote {
  readonly at: number;
  readonly length: number;
  readonly midi: number;
}

const utf8 = (text: string): string => Buffer.from(text, 'latin1').toString('utf8');

/** Every track of a file, those without notes too. */
export function heardTracks(bytes: Uint8Array): Heard[] {
  const { header, tracks } = parseMidi(bytes);
  const scale = QUARTER / (header.ticksPerBeat ?? NaN);
  return tracks.map((events): Heard => {
    let at = 0;
    let [name, channel] = ['', -1];
    /** Starts of the notes that sound; a unison of two voices is two. */
    const open = new Map<number, number[]>();
    const notes: HeardNote[] = [];
    const words: string[] = [];
    const texts: string[] = [];
    for (const event of events) {
      at += event.deltaTime;
      const moment = String(Math.round(at * scale));
      if (event.type === 'trackName') name = utf8(event.text);
      if (event.type === 'lyrics') words.push(`${moment} ${utf8(event.text)}`);
      if (event.type === 'text' || event.type === 'marker')
        texts.push(`${moment} ${utf8(event.text)}`);
      if (event.type === 'timeSignature')
        texts.push(`${moment} ${String(event.numerator)}/${String(event.denominator)}`);
      if (event.type === 'noteOn') {
        open.set(event.noteNumber, [...(open.get(event.noteNumber) ?? []), at]);
        ({ channel } = event);
      }
      if (event.type === 'noteOff') {
        const from = open.get(event.noteNumber)?.shift() ?? NaN;
        notes.push({
          at: Math.round(from * scale),
          length: Math.round((at - from) * scale),
          midi: event.noteNumber,
        });
      }
    }
    return { name, channel, notes: sorted(notes), words, texts };
  });
}

/** A movement of the foot: controller 64, from 64 up down (MIDI 1.0). */
export interface HeardPedal {
  readonly at: number;
  readonly isDown: boolean;
}

/** What a channel has besides notes: the pedal and the sounds it is set to. */
export interface HeardChannel {
  readonly name: string;
  readonly programs: readonly number[];
  readonly pedal: readonly HeardPedal[];
  /** `moment key velocity`, in the order of the file. */
  readonly struck: readonly { at: number; midi: number; velocity: number }[];
  /** Kinds of what happens at each moment, in the order of the file: `on`, `off`, `pedal`. */
  readonly order: ReadonlyMap<number, readonly string[]>;
}

/** Every track of a file with its pedal. */
export function heardChannels(bytes: Uint8Array): HeardChannel[] {
  const { header, tracks } = parseMidi(bytes);
  const scale = QUARTER / (header.ticksPerBeat ?? NaN);
  return tracks.map((events): HeardChannel => {
    let time = 0;
    let name = '';
    const programs: number[] = [];
    const pedal: HeardPedal[] = [];
    const struck: { at: number; midi: number; velocity: number }[] = [];
    const order = new Map<number, string[]>();
    for (const event of events) {
      time += event.deltaTime;
      const at = Math.round(time * scale);
      const add = (kind: string) => order.set(at, [...(order.get(at) ?? []), kind]);
      if (event.type === 'trackName') name = utf8(event.text);
      if (event.type === 'programChange') programs.push(event.programNumber);
      if (event.type === 'controller' && event.controllerType === 64) {
        pedal.push({ at, isDown: event.value >= 64 });
        add('pedal');
      }
      if (event.type === 'noteOn') {
        struck.push({ at, midi: event.noteNumber, velocity: event.velocity });
        add('on');
      }
      if (event.type === 'noteOff') add('off');
    }
    return { name, programs, pedal, struck, order };
  });
}

const sorted = (notes: readonly HeardNote[]): HeardNote[] =>
  [...notes].sort((a, b) => a.at - b.at || a.midi - b.midi || a.length - b.length);

/** What a voice of a score sounds like, in the same form. */
export function sounding(voice: Voice): HeardNote[] {
  return sorted(
    Time.soundingNotes(voice).map(({ at, length, pitch }) => ({
      at,
      length,
      midi: Pitches.midiOf(pitch),
    })),
  );
}

/** The words of a verse with their moments; a space ends a word, as in RP-017. */
export function sungWords(voice: Voice, verse = 0): string[] {
  return voice.notes.flatMap(({ at, syllables }) => {
    const syllable = syllables?.[verse];
    return syllable ? [`${String(at)} ${syllable.text}${syllable.hyphen ? '' : ' '}`] : [];
  });
}

/** All notes of a score together, each moment and pitch once, for readers that divide voices otherwise. */
export function together(notes: readonly HeardNote[]): string[] {
  return [
    ...new Set(
      sorted(notes).map(
        ({ at, length, midi }) => `${String(at)} ${String(length)} ${String(midi)}`,
      ),
    ),
  ];
}

export const allNotes = (score: Score): HeardNote[] => score.voices.flatMap(sounding);

/** Seconds from the beginning of a file to the end of its longest track, by its own tempo events; 120 quarters a minute until the first (RP-001). */
export function heardSeconds(bytes: Uint8Array): number {
  const { header, tracks } = parseMidi(bytes);
  const tempos: { at: number; perQuarter: number }[] = [{ at: 0, perQuarter: 500_000 }];
  let end = 0;
  for (const events of tracks) {
    let at = 0;
    for (const event of events) {
      at += event.deltaTime;
      if (event.type === 'setTempo') tempos.push({ at, perQuarter: event.microsecondsPerBeat });
    }
    end = Math.max(end, at);
  }
  tempos.sort((a, b) => a.at - b.at);
  const microseconds = tempos.reduce((sum, { at, perQuarter }, i) => {
    const until = tempos[i + 1]?.at ?? end;
    return sum + ((until - at) / (header.ticksPerBeat ?? NaN)) * perQuarter;
  }, 0);
  return microseconds / 1e6;
}
