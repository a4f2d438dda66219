import { tonesOf } from '../../pitch/chord-symbol.ts';
import type { Chord } from '../../pitch/chord.ts';
import { fifthsOf, keysToOffer, sameKey, scaleOf, signatureOf, type Key } from '../../pitch/key.ts';
import { pitchClassOf, type NoteName } from '../../pitch/pitch.ts';
import type { FoundKey } from '../../score/key-finding.ts';
import { saySentence, type Sentence } from '../../score/sentence.ts';

/** What speaks for a key, in points: so much for all chords lying in it … (common practice, weights our own). */
const POINTS = { inside: 100, last: 18, first: 12, each: 10 } as const;

interface Candidate {
  readonly key: Key;
  readonly inside: number;
  readonly points: number;
}

/** The notes of a key; in minor the raised seventh too, which its dominant has. */
function notesOf(key: Key): Set<number> {
  const notes = new Set(scaleOf(key).map(pitchClassOf));
  if (key.mode === 'minor') notes.add((pitchClassOf(key.tonic) + 11) % 12);
  return notes;
}

const isMinor = ({ kind }: Chord): boolean => kind.startsWith('minor');

function isTonic(chord: Chord | undefined, key: Key): boolean {
  return (
    chord !== undefined &&
    pitchClassOf(chord.root) === pitchClassOf(key.tonic) &&
    isMinor(chord) === (key.mode === 'minor')
  );
}

/** A chord and the notes that tell its key: a seventh, ninth or bass may be borrowed; the triad is not. */
interface Heard {
  readonly chord: Chord;
  readonly triad: readonly number[];
}

/** The chords that have notes; each symbol is spelled once, however often it comes. */
function heardIn(all: readonly (Chord | null)[]): Heard[] {
  const triads = new Map<string, readonly number[]>();
  return all.flatMap((chord): Heard[] => {
    if (!chord) return [];
    const symbol = `${chord.root} ${chord.kind} ${JSON.stringify(chord.degrees)}`;
    const triad = triads.get(symbol) ?? tonesOf(chord).slice(0, 3).map(pitchClassOf);
    triads.set(symbol, triad);
    return triad.length > 0 ? [{ chord, triad }] : [];
  });
}

function weigh(key: Key, chords: readonly Heard[]): Candidate {
  const notes = notesOf(key);
  const inside = chords.filter(({ triad }) => triad.every((note) => notes.has(note))).length;
  const tonics = chords.filter(({ chord }) => isTonic(chord, key)).length;
  const points =
    (POINTS.inside * inside + POINTS.each * tonics) / chords.length +
    (isTonic(chords.at(-1)?.chord, key) ? POINTS.last : 0) +
    (isTonic(chords[0]?.chord, key) ? POINTS.first : 0);
  return { key, inside, points };
}

/** As the chords spell it: with chords on G♭ the key is not F♯. */
function spelled(key: Key, roots: readonly NoteName[]): Key {
  const found = roots.find((root) => pitchClassOf(root) === pitchClassOf(key.tonic));
  const own = found === undefined ? key : { tonic: found, mode: key.mode };
  return Math.abs(signatureOf(own)) <= 7 && Math.abs(fifthsOf(own.tonic)) <= 12 ? own : key;
}

/**
 * The key that chords speak for, never for sure: the major or minor key in which most of them lie; then the one whose
 * tonic chord is the last, the first, and comes most often. Of equals the one with fewer accidentals.
 */
export function findKey(
  all: readonly (Chord | null)[],
): FoundKey & { readonly sentence: Sentence } {
  const chords = heardIn(all);
  const [first, last] = [chords[0]?.chord, chords.at(-1)?.chord];
  if (!first || !last) {
    const key: Key = { tonic: 'C', mode: 'major' };
    const sentence: Sentence = ['No key is named and there are no chords to find one from.'];
    return { key, sure: false, reason: saySentence(sentence), sentence, others: [] };
  }
  const roots = chords.map(({ chord }) => chord.root);
  const ranked = [...keysToOffer('major'), ...keysToOffer('minor')]
    .map((key) => weigh(key, chords))
    .sort(
      (a, b) => b.points - a.points || Math.abs(signatureOf(a.key)) - Math.abs(signatureOf(b.key)),
    );
  const [best, ...rest] = ranked as [Candidate, ...Candidate[]];
  const key = spelled(best.key, roots);
  const share =
    best.inside === chords.length
      ? chords.length === 1
        ? 'the one chord lies'
        : `all ${chords.length} chords lie`
      : `${best.inside} of ${chords.length} chords lie`;
  const sentence: Sentence = [
    `No key is named; ${share} in `,
    { key },
    ', the first is ',
    { chord: first },
    ' and the last is ',
    { chord: last },
    '.',
  ];
  const others = rest
    .slice(0, 3)
    .map((each) => spelled(each.key, roots))
    .filter((other) => !sameKey(other, key));
  return { key, sure: false, reason: saySentence(sentence), sentence, others };
}
