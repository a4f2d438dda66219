import { describe, expect, it } from 'vitest';
import {
  ChordSymbol,
  CountIn,
  Parts,
  QUARTER,
  WordsSheets,
  type Chord,
  type Score,
  type Team,
} from '#music';
import { hymn } from '#test/support/hymn.ts';
import { songOf } from '#test/support/small-abc.ts';

/*
 * Common practice: the singers sing the pickup and the first chord falls on beat one, on the stressed word; where the
 * source prints a chord over the pickup, it is played there.
 */

function chord(text: string): Chord {
  const read = ChordSymbol.read(text);
  if (!read.ok) throw new Error(text);
  return read.value;
}

const ARRANGEMENT = { key: { tonic: 'G', mode: 'major' }, tempo: null, density: 'bar' } as const;
const TEAM: Team = { roles: ['keys', 'bass', 'guitar'], lead: null };
/** In 3/4, a quarter of pickup; its chords are read from its voices. */
const GUESSED = hymn('Amazing_Grace-New_Britain.abc');
/** The same with a chord that somebody wrote over the pickup. */
const WRITTEN: Score = { ...GUESSED, chords: [{ at: 0, length: QUARTER, chord: chord('D7') }] };
/** A tune in C with all its chords written; it is played in G. */
const PRINTED = songOf('"G7"G | "C"c2 c2 | "F"F2 "C"E2 |]', ['Come all who sing here']);

/** Where the song itself begins, behind the introduction. */
const start = ({ bars }: Score) => bars.find(({ copyOf }) => copyOf === undefined)?.at ?? 0;

/** What the hands, the bass and the words have over the pickup: whether anything sounds, and the chord's name. */
function overPickup(score: Score) {
  const sounds = (role: 'keys' | 'bass', voice: string): boolean => {
    const player = { id: 'ada', role, level: 'beginner', name: 'Ada', reach: 12 } as const;
    const built = Parts.build(score, ARRANGEMENT, player, TEAM);
    if (!built.ok) throw new Error(built.problems[0]?.message);
    const part = built.value.score;
    const notes = part.voices.find(({ id }) => id === voice)?.notes ?? [];
    return notes.some(({ at, pitches }) => at === start(part) && pitches.length > 0);
  };
  const words = WordsSheets.of(score, ARRANGEMENT, { name: 'Ines', role: 'guitar' });
  if (!words.ok) throw new Error(words.problems[0]?.message);
  const verse = words.value.passes.find(({ name }) => name !== 'Introduction');
  return {
    keys: [sounds('keys', 'right'), sounds('keys', 'left')],
    bass: sounds('bass', 'bass'),
    words: verse?.lines[0]?.pieces[0]?.chord?.name ?? null,
    count: CountIn.of(score).firstChordAt / QUARTER,
  };
}

describe('A chord over the pickup', () => {
  it.each([
    ['in a song whose other chords are found', WRITTEN, 'D7', 5],
    ['in a song whose chords are printed', PRINTED, 'D7', 7],
  ])('that a person wrote is played by everybody: %s', (_, score, words, count) => {
    expect(overPickup(score)).toEqual({ keys: [true, true], bass: true, words, count });
  });

  it('that was found in the voices is left out by everybody', () => {
    expect(overPickup(GUESSED)).toEqual({ keys: [false, false], bass: false, words: null, count: 6 }); // prettier-ignore
  });
});
