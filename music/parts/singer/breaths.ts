import { PUNCTUATION } from '../../score/phrase-ends.ts';
import type { Note, Score, Ticks, Voice } from '../../score/score.ts';
import { barLength, feltBeat, melodyOf, meterAt } from '../../score/time.ts';
import { lineStarts } from '../../score/verse-text.ts';

/** A stop inside a line is a breath where half of the verses have it, or more (ours). */
const HALF = 0.5;
/** Bars, less one felt beat, that are sung before a breath inside a line (ours: the phrases of most hymns). */
const BARS = 2;

/**
 * After which notes a singer breathes: at the end of each line of the poem, and inside a line at a stop that half of the
 * verses have after some two bars. Never inside a word of any verse, nor where a rest is there for it or a tie holds on;
 * a section's last note is followed by a breath if another section goes on at once.
 */
export function breathsIn(song: Score): ReadonlySet<Ticks> {
  const starts = lineStarts(song);
  const first = new Set(song.sections.map(({ from }) => from));
  const breaths = new Set<Ticks>();
  const { notes } = melodyOf(song);
  const last = song.verses.map(() => ({ text: '', joined: false }));
  let since: Ticks | null = null;
  notes.forEach((note, i) => {
    const before = notes[i - 1];
    if (note.pitches.length === 0) since = null;
    else since ??= note.at;
    const sung = song.verses.flatMap((_, verse) => (note.syllables?.[verse] ? [verse] : []));
    if (since !== null && before && sung.length > 0 && isFree(before)) {
      const befores = sung.flatMap((verse) => last[verse] ?? []);
      const stops = befores.filter(({ text }) => PUNCTUATION.test(text)).length / befores.length;
      const isLine = starts.has(note.at) || first.has(note.at);
      const isPhrase = stops >= HALF && note.at - since >= phraseAt(song, note.at);
      if (last.every(({ joined }) => !joined) && (isLine || isPhrase)) {
        breaths.add(before.at);
        since = note.at;
      }
    }
    for (const verse of sung) {
      const syllable = note.syllables?.[verse];
      last[verse] = { text: syllable?.text ?? '', joined: syllable?.hyphen === true };
    }
  });
  return breaths;
}

/** A sung note that ends where it is written. */
const isFree = ({ pitches, tie }: Note): boolean => pitches.length > 0 && tie !== true;

function phraseAt(song: Score, at: Ticks): Ticks {
  const meter = meterAt(song, at);
  const beat = feltBeat(meter);
  return BARS * (barLength(meter) ?? 4 * beat) - beat;
}

/** A tune with the sign of a breath after its phrases (a comma above the staff), where none stands yet. */
export function withBreaths(melody: Voice, breaths: ReadonlySet<Ticks>): Voice {
  return {
    ...melody,
    notes: melody.notes.map((note) =>
      breaths.has(note.at) && note.pitches.length > 0 && note.signs?.includes('breath') !== true
        ? { ...note, signs: [...(note.signs ?? []), 'breath'] }
        : note,
    ),
  };
}
