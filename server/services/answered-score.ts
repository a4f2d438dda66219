import { ChordSymbol, KeyFinding, type Chord, type ChordAt, type Key, type Score } from '#music';
import type { StoredSong, WrittenChord } from '../store/songs.store.ts';

/** A chord from a place on; what stood there before loses that stretch. */
function withWritten(score: Score, from: number, length: number, chord: Chord | null): Score {
  const to = from + length;
  const others = score.chords.flatMap((each): ChordAt[] => {
    const end = each.at + each.length;
    if (end <= from || each.at >= to) return [each];
    return [
      ...(each.at < from ? [{ ...each, length: from - each.at }] : []),
      ...(end > to ? [{ ...each, at: to, length: end - to }] : []),
    ];
  });
  const chords = [...others, { at: from, length, chord }].sort((a, b) => a.at - b.at);
  return { ...score, chords };
}

function corrected(score: Score, { at, length, symbol }: WrittenChord): Score {
  if (symbol === null) return withWritten(score, at, length, null);
  const chord = ChordSymbol.read(symbol);
  // It was read once before it was kept.
  return chord.ok ? withWritten(score, at, length, chord.value) : score;
}

/** The song as its people know it: the key they answered and the chords they wrote, worked into what was read. */
export function answeredScore(
  song: Pick<StoredSong, 'score' | 'answeredKey' | 'corrections'>,
): Score {
  return song.corrections.reduce(corrected, withKey(song.score, song.answeredKey));
}

export function withKey(score: Score, key: Key | null): Score {
  return key === null ? score : KeyFinding.answer(score, key);
}

/** The key of the first bar. */
export function firstKey(score: Score): Key {
  const first = score.keys[0];
  if (!first) throw new RangeError('a score has a key at its start');
  return first.key;
}
