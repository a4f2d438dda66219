import { parseMidi } from 'midi-file';
import { describe, expect, it } from 'vitest';
import { Midi, Pitches, QUARTER, Time, type Score } from '#music';
import { hymn } from '#test/support/hymn.ts';
import { HYMN_FILES } from '#test/support/hymns.ts';

// Independent reading: the parser of midi-file 1.2.4, which shares no code with ours.

interface Sounding {
  readonly name: string;
  /** `onset length pitch`, the moments in ticks of the score. */
  readonly notes: readonly string[];
  readonly words: readonly string[];
}

/** What a program that knows nothing of us hears: every track with notes by midi-file. */
function heard(bytes: Uint8Array): Sounding[] {
  const { header, tracks } = parseMidi(bytes);
  const scale = QUARTER / (header.ticksPerBeat ?? NaN);
  return tracks.flatMap((events): Sounding[] => {
    let at = 0;
    let name = '';
    const open = new Map<number, number>();
    const notes: { at: number; midi: number; text: string }[] = [];
    const words: string[] = [];
    for (const event of events) {
      at += event.deltaTime;
      if (event.type === 'trackName') name = Buffer.from(event.text, 'latin1').toString('utf8');
      if (event.type === 'lyrics')
        words.push(`${String(at * scale)} ${Buffer.from(event.text, 'latin1').toString('utf8')}`);
      if (event.type === 'noteOn') open.set(event.noteNumber, at);
      if (event.type === 'noteOff') {
        const from = open.get(event.noteNumber) ?? NaN;
        open.delete(event.noteNumber);
        const text = `${String(from * scale)} ${String((at - from) * scale)} ${String(event.noteNumber)}`;
        notes.push({ at: from, midi: event.noteNumber, text });
      }
    }
    notes.sort((a, b) => a.at - b.at || a.midi - b.midi);
    return notes.length === 0 ? [] : [{ name, notes: notes.map(({ text }) => text), words }];
  });
}

function written(score: Score): Sounding[] {
  return score.voices.map((voice) => ({
    name: voice.name,
    notes: Time.soundingNotes(voice)
      .map(({ at, length, pitch }) => ({ at, midi: Pitches.midiOf(pitch), length }))
      .sort((a, b) => a.at - b.at || a.midi - b.midi)
      .map(({ at, length, midi }) => `${String(at)} ${String(length)} ${String(midi)}`),
    words: voice.notes.flatMap(({ at, syllables }) => {
      const syllable = syllables?.[0];
      return syllable ? [`${String(at)} ${syllable.text}${syllable.hyphen ? '' : ' '}`] : [];
    }),
  }));
}

describe('What is written as MIDI is what an independent reader (midi-file) hears', () => {
  it.each(HYMN_FILES)('%s: the notes and the words of every voice', (file) => {
    const score = hymn(file);
    expect(heard(Midi.write(score))).toEqual(written(score));
  });
});

describe('What was written as MIDI is read again', () => {
  it.each(HYMN_FILES)('%s: onsets, lengths, pitches, syllables and bars', (file) => {
    const score = hymn(file);
    const read = Midi.read(Midi.write(score));
    if (!read.ok) throw new Error(JSON.stringify(read.problems));
    expect(written(read.value)).toEqual(written(score));
  });
});
