import { signatureOf, type Key } from '../pitch/key.ts';
import { decided } from '../score/key-finding.ts';
import { SCORE_LIMITS } from '../score/limits.ts';
import { QUARTER, type Bar, type Meter, type Score, type Tempo } from '../score/score.ts';
import { barLength } from '../score/time.ts';
import { PLAIN_BAR } from './bars.ts';
import { silence } from './voices.ts';

export interface BlankSong {
  readonly title: string;
  readonly key: Key;
  readonly meter: Meter;
  /** At least one. */
  readonly bars: number;
  readonly tempo?: Tempo | null;
}

/** An empty song to write into: a melody of rests, one section, sung once. In free meter a bar is four quarters long. */
export function blank({ title, key, meter, bars: count, tempo = null }: BlankSong): Score {
  const length = barLength(meter) ?? 4 * QUARTER;
  const most = Math.min(Math.max(1, Math.floor(count)), SCORE_LIMITS.bars);
  const bars = Array.from({ length: most }, (_, i): Bar => {
    const line = i === most - 1 ? 'final' : 'single';
    return { ...PLAIN_BAR, number: i + 1, at: i * length, length, line };
  });
  const none = { tune: null, hymnMeter: null, rights: null, source: null };
  return {
    facts: { title, subtitles: [], ...none, credits: [], other: [] },
    tempo,
    keys: [{ at: 0, signature: signatureOf(key), ...decided(key) }],
    meters: [{ at: 0, meter }],
    bars,
    voices: [
      {
        id: 'melody',
        name: 'Melody',
        group: 'Singer',
        staff: 1,
        clef: 'treble',
        notes: silence({ bars }),
      },
    ],
    melody: 'melody',
    chords: [],
    sections: [{ id: 'verse', kind: 'verse', name: 'Verse', from: 0, to: most * length }],
    verses: [],
    form: [{ section: 'verse', verse: null }],
    introduction: [],
  };
}
