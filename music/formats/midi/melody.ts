import type { Problem } from '../../result.ts';
import { quoted } from '../report.ts';
import { hasChords, type MidiPart } from './parts.ts';

/** Names of a tune or a voice that has one, in the languages of hymnals (common practice). */
const NAMES =
  /\b(melod\w*|m[eé]lodie|soprano?s?|sopran|discantus|cantus|voice|vocals?|voix|voz|stimme|gesang|singer|lead|tune|solo|treble|canto)\b/i;
const NOT_NAMES = /\b(alto?s?|tenors?|tenore?s?|bass\w*|chords?|organ|piano|strings|pad|drums?)\b/i;

const OWN_NAME = 'its name says so';
const OTHER_NAME = 'its name is not that of a lower voice or of a player';

interface Reason {
  readonly holds: boolean;
  readonly words: string;
}

/** Why a part may be the tune, the weightiest first. */
function reasonsOf(part: MidiPart, longest: number): Reason[] {
  const isTune = NAMES.test(part.name) && !NOT_NAMES.test(part.name);
  const first = part.notes[0];
  const last = part.notes.at(-1);
  const span = first && last ? last.end - first.at : 0;
  return [
    { holds: part.texts.some(({ kind }) => kind === 'lyric'), words: 'the words are with it' },
    { holds: isTune, words: OWN_NAME },
    {
      holds: !NOT_NAMES.test(part.name),
      words: OTHER_NAME,
    },
    { holds: !hasChords(part), words: 'it has one note at a time' },
    { holds: span * 2 >= longest, words: 'it goes through at least half of the song' },
  ];
}

/** Mean of the pitches, each for as long as it sounds; a MIDI number. */
function meanPitch({ notes }: MidiPart): number {
  let [sum, time] = [0, 0];
  for (const { midi, at, end } of notes) {
    sum += midi * (end - at);
    time += end - at;
  }
  return time === 0 ? 0 : sum / time;
}

/**
 * Which part has the tune. The rule, in this order: the part has the words; its name is that of a tune or a high voice; its
 * name is not that of another voice or an instrument; it has one note at a time; it goes through at least half of the song; it lies highest on average. Of
 * equals the first in the file. An earlier point outweighs all later ones.
 */
export function findMelody(parts: readonly MidiPart[], warnings: Problem[]): number {
  const longest = Math.max(
    0,
    ...parts.map(({ notes }) => (notes.at(-1)?.end ?? 0) - (notes[0]?.at ?? 0)),
  );
  const ranked = parts.map((part, place) => ({
    part,
    place,
    reasons: reasonsOf(part, longest),
    mean: meanPitch(part),
  }));
  ranked.sort((a, b) => {
    for (const [i, reason] of a.reasons.entries()) {
      const other = b.reasons[i]?.holds ?? false;
      if (reason.holds !== other) return reason.holds ? -1 : 1;
    }
    return b.mean - a.mean || a.place - b.place;
  });
  const [first, second] = ranked;
  if (!first) throw new RangeError('no part, no tune');
  if (second) warnings.push(said(first, second));
  return first.place;
}

interface Ranked {
  readonly part: MidiPart;
  readonly reasons: readonly Reason[];
  readonly mean: number;
}

/** The choice in words: what holds of the part and not of the next one, or that it lies higher. */
function said(first: Ranked, second: Ranked): Problem {
  const decided = first.reasons
    .filter(({ holds }, i) => holds && second.reasons[i]?.holds === false)
    // Whose name is that of a tune has no other's: it is said once.
    .filter((each, _, all) => !(each.words === OTHER_NAME && all.some(({ words }) => words === OWN_NAME))); // prettier-ignore
  const why =
    decided.length > 0
      ? decided.map(({ words }) => words).join(' and ')
      : first.mean > second.mean
        ? 'it lies highest'
        : 'it comes first';
  const message = `${quoted(first.part.name)} is taken for the tune: ${why}. The next is ${quoted(second.part.name)}.`;
  return { code: 'guess-melody', message };
}
