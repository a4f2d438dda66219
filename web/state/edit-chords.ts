import { ChordSymbol, Keys, Reduction, Time, type Score, type Ticks } from '#music';

const found = new WeakMap<Score, Score>();

/** The song with the chords that its voices make where nobody wrote any; as it is, where there is one voice. */
export function withFoundChords(score: Score): Score {
  if (score.voices.length < 2) return score;
  const known = found.get(score);
  if (known) return known;
  const read = Reduction.withChords(score, { density: 'bar' });
  found.set(score, read);
  return read;
}

/** What is written or found at a place, as one would type it; empty: nothing. */
export function chordTextAt(score: Score, at: Ticks): string {
  const chord = withFoundChords(score).chords.find((each) => each.at === at);
  if (!chord) return '';
  return chord.chord ? ChordSymbol.write(chord.chord) : 'N.C.';
}

/** The places of chords that a person wrote. */
export function isWritten(score: Score, at: Ticks): boolean {
  return score.chords.some((each) => each.at === at && !each.guess);
}

/** Qualities of the triads on the seven steps of major, and of minor with the major dominant (common practice). */
const TRIADS = {
  major: ['', 'm', 'm', '', '', 'm', 'dim'],
  minor: ['m', 'dim', '', 'm', '', '', ''],
} as const;

/** The chords that a song in the key there mostly has, the nearest first: `G, C, D, Em, Am, Bm, D7`. */
export function usualChords(score: Score, at: Ticks): string[] {
  const { key } = Time.keyAt(score, Math.max(0, Math.min(at, Time.endOf(score) - 1)));
  const scale = Keys.scaleOf(key);
  const isMinor = key.mode === 'minor';
  const triads = TRIADS[isMinor ? 'minor' : 'major'];
  const order = isMinor ? [0, 3, 4, 5, 2, 6] : [0, 3, 4, 5, 1, 2];
  return [
    ...order.map((step) => `${scale[step] ?? ''}${triads[step] ?? ''}`),
    `${scale[4] ?? ''}7`,
  ];
}

/** Where the next chord is most likely written: the next beat, or the next note of the tune where one is held over it. */
export function nextBeat(score: Score, at: Ticks): Ticks {
  const end = Time.endOf(score);
  if (at >= end) return end;
  const bar = Time.barAt(score, at);
  const beat = Time.feltBeat(Time.meterAt(score, at));
  const next = bar.at + (Math.floor((at - bar.at) / beat) + 1) * beat;
  const to = Math.min(end, next, bar.at + bar.length);
  const held = Time.noteAt(Time.melodyOf(score), to);
  // The cursor stands on the beginning of a note: inside a held one it would go back.
  const goesOn = held && held.pitches.length > 0 && held.at < to;
  return goesOn ? Math.min(end, held.at + held.length) : to;
}
