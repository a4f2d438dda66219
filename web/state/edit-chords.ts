import {
  ChordSymbol,
  Keys,
  Pitches,
  Reduction,
  Time,
  type Edit,
  type NoteName,
  type Score,
  type Ticks,
} from '#music';

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

/** What a triad is called by its third and fifth, in semitones over the root. */
const QUALITIES: Readonly<Record<string, string>> = {
  '4 7': '',
  '3 7': 'm',
  '3 6': 'dim',
  '4 8': 'aug',
};

function triadOn(scale: readonly NoteName[], step: number): string {
  const [root, third, fifth] = [0, 2, 4].map((by) => scale[(step + by) % scale.length] ?? 'C');
  const over = (name = 'C'): number =>
    (Pitches.midiOf(`${name}4`) - Pitches.midiOf(`${root ?? 'C'}4`) + 24) % 12;
  return `${root ?? ''}${QUALITIES[`${over(third)} ${over(fifth)}`] ?? ''}`;
}

/**
 * The chords that a song in the key there mostly has, the nearest first: `G, C, D, Em, Am, Bm, D7`. The triads of its
 * scale, in minor with the major dominant (common practice).
 */
export function usualChords(score: Score, at: Ticks): string[] {
  const { key } = Time.keyAt(score, Math.max(0, Math.min(at, Time.endOf(score) - 1)));
  const scale = Keys.scaleOf(key);
  const isMinor = key.mode === 'minor';
  const order = isMinor ? [0, 3, 4, 5, 2, 6] : [0, 3, 4, 5, 1, 2];
  const dominant = scale[4] ?? '';
  return [
    ...order.map((step) => (isMinor && step === 4 ? dominant : triadOn(scale, step))),
    `${dominant}7`,
  ];
}

/** A chord found in the voices stands until the next one: what a person writes takes the place of that one alone. */
function untilFound(score: Score, at: Ticks): { until?: Ticks } {
  const next = withFoundChords(score).chords.find((each) => each.at > at);
  return next?.guess ? { until: next.at } : {};
}

/** What writes a chord at a place; null: no chord sounds there. */
export function chordEdit(score: Score, at: Ticks, symbol: string | null): Edit {
  return { do: 'chord', at, symbol, ...untilFound(score, at) };
}

/** What is typed at a place comes to: an edit, nothing (it stands there already), or why it is none. */
export type TypedChord = { readonly edit: Edit | null } | { readonly wrong: string };

/** Reads what is typed at a place; empty takes away what was written there, `N.C.` says that no chord sounds. */
export function typedChord(score: Score, at: Ticks, typed: string): TypedChord {
  const text = typed.trim();
  const written = isWritten(score, at);
  if (text === '') return { edit: written ? { do: 'remove chord', at } : null };
  if (written && text === chordTextAt(score, at)) return { edit: null };
  if (/^n\.?\s?c\.?$/i.test(text)) return { edit: chordEdit(score, at, null) };
  const read = ChordSymbol.read(text);
  if (!read.ok) return { wrong: read.problems[0]?.message ?? 'That is not a chord symbol.' };
  return { edit: chordEdit(score, at, text) };
}

/** A symbol with the signs of print: `F♯m`, `B♭`. */
export function prettyChord(symbol: string): string {
  return symbol.replace(/(^|\/)([A-G])#/g, '$1$2♯').replace(/(^|\/)([A-G])b/g, '$1$2♭');
}
