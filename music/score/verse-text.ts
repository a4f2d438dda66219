import { bestEnds, LINE_PRICES } from './hymn-meter/lines.ts';
import { placesIn, versesIn } from './hymn-meter/places.ts';
import type { Score, Ticks } from './score.ts';
import { barAt, melodyOf } from './time.ts';

/** The words of one verse as sung, a line of the poem each. `verse` is an index into `score.verses`. */
export function linesOfVerse(score: Score, verse: number): string[] {
  const printed = score.verses[verse]?.lines;
  if (printed && printed.length > 0) return [...printed];
  const starts = lineStarts(score);
  const lines: string[] = [];
  let line = '';
  let joined = false;
  for (const note of melodyOf(score).notes) {
    const syllable = note.syllables?.[verse];
    if (!syllable) continue;
    if (line && !joined && starts.has(note.at)) {
      lines.push(line);
      line = '';
    }
    line += (line && !joined ? ' ' : '') + syllable.text;
    joined = syllable.hyphen === true;
  }
  if (line) lines.push(line);
  return lines;
}

/**
 * The notes on which a line of the poem begins. Where the source types lines, they are those that begin its bars. Else a
 * line begins with a capital after a stop, and as all verses have the same lines, at least half of the verses that have a
 * syllable there must say so: “Amazing grace! How sweet” is one line, for the other verses have no stop there. Words
 * whose stops and capitals leave a line that nobody could sing through have the lines that their hymn meter has.
 */
export function lineStarts(score: Score): ReadonlySet<Ticks> {
  const { notes } = melodyOf(score);
  const votes = new Map<Ticks, { yes: number; all: number }>();
  for (let verse = 0; verse < score.verses.length; verse += 1) {
    let before = { text: '', joined: false, bar: score.bars[0] };
    for (const { at, syllables } of notes) {
      const syllable = syllables?.[verse];
      if (!syllable) continue;
      const bar = score.untimed ? barAt(score, at) : undefined;
      const begins = score.untimed
        ? bar !== before.bar
        : !before.joined &&
          /[,;:.!?—]["”’)]?$/.test(before.text) &&
          /^["“‘(]?\p{Lu}/u.test(syllable.text);
      const vote = votes.get(at) ?? { yes: 0, all: 0 };
      votes.set(at, { yes: vote.yes + (begins ? 1 : 0), all: vote.all + 1 });
      before = { text: syllable.text, joined: syllable.hyphen === true, bar };
    }
  }
  const starts = new Set(
    [...votes].filter(([, { yes, all }]) => yes * 2 >= all && yes > 0).map(([at]) => at),
  );
  return score.untimed || !hasEndless(score, starts) ? starts : metrical(score, starts);
}

/** Whether a line of some verse has more syllables than any line of a hymn. */
function hasEndless(score: Score, starts: ReadonlySet<Ticks>): boolean {
  const counts = score.verses.map(() => 0);
  for (const { at, syllables } of melodyOf(score).notes) {
    for (const verse of counts.keys()) {
      if (starts.has(at)) counts[verse] = 0;
      if (syllables?.[verse]) counts[verse] = (counts[verse] ?? 0) + 1;
    }
    if (counts.some((count) => count > LINE_PRICES.longest)) return true;
  }
  return false;
}

/** With the lines of the hymn meter, section by section. */
function metrical(score: Score, starts: ReadonlySet<Ticks>): ReadonlySet<Ticks> {
  const found = score.sections.flatMap((section) => {
    const verses = versesIn(score, section);
    if (verses.length === 0) return [];
    const places = placesIn(verses, section.to);
    return [section.from, ...bestEnds(places).ends.flatMap((end) => places[end]?.at ?? [])];
  });
  return new Set([...starts, ...found]);
}

/** Whether a verse has syllables under the notes; else its words can only stand below the music. */
export function isUnderNotes(score: Score, verse: number): boolean {
  return melodyOf(score).notes.some(({ syllables }) => syllables?.[verse]);
}
