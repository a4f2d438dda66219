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
