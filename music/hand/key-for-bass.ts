import { noteOf, midiOf, pitchClassOf, type NoteName, type PitchName } from '../pitch/pitch.ts';
import { neckPlaceOf, OPEN_STRINGS, placeBass } from './bass-places.ts';

/** A note of the bass, and how long it lasts; any unit, one for all. */
export interface BassTime {
  readonly note: NoteName;
  readonly time: number;
}

/** Notes of a key on a bass, first to last, each once. */
export interface KeyForBass {
  readonly strings: 4 | 5;
  /** Notes that are open strings where they are played. */
  readonly open: readonly NoteName[];
  readonly openTime: number;
  readonly time: number;
  /** Ways from a note to the next that go beyond a fifth, in the order of the song; how often. */
  readonly wide: number;
  /** Notes that a low B string would have below the lowest of four; none with five strings. */
  readonly below: readonly NoteName[];
}

/** A fifth: no further does a hand in first position go without looking (see `placeBass`). */
const FIFTH = 7;

/**
 * What a key asks of a bass player: where the notes of the chords lie in first position (`placeBass`, as the first rung
 * plays them), which of them are open strings and for how long, how often the way is wider than a fifth, and what lies
 * too deep for four strings, so that it stands an octave up.
 * @param line the bass note of each chord as it sounds, in order; at least one
 */
export function keyForBass(line: readonly BassTime[], strings: 4 | 5): KeyForBass {
  const places = placeBass(
    line.map(({ note }) => note),
    strings,
  );
  const isOpen = (pitch: PitchName) => neckPlaceOf(pitch, strings)?.fret === 0;
  const open = line.filter((_, i) => isOpen(places[i] ?? ''));
  const sum = (times: readonly BassTime[]) => times.reduce((all, { time }) => all + time, 0);
  return {
    strings,
    open: once(open.map(({ note }) => note)),
    openTime: sum(open),
    time: sum(line),
    wide: places.filter((pitch, i) => {
      const before = places[i - 1];
      return before !== undefined && Math.abs(midiOf(pitch) - midiOf(before)) > FIFTH;
    }).length,
    below: strings === 5 ? [] : belowFour(line.map(({ note }) => note)),
  };
}

/** Notes that five strings have below the lowest of four. */
function belowFour(line: readonly NoteName[]): NoteName[] {
  const lowest = midiOf(OPEN_STRINGS[4][0] ?? 'E1');
  return once(
    placeBass(line, 5)
      .filter((pitch) => midiOf(pitch) < lowest)
      .map(noteOf),
  );
}

function once(notes: readonly NoteName[]): NoteName[] {
  const classes = notes.map(pitchClassOf);
  return notes.filter((_, i) => classes.indexOf(classes[i] ?? -1) === i);
}
