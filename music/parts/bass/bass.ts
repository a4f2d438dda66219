import { placeHand, type HandPlace } from '../../hand/bass-hand.ts';
import { says as saysIn } from '../../pitch/says.ts';
import { success, type Result } from '../../result.ts';
import type { Score, Voice } from '../../score/score.ts';
import { melodyOf } from '../../score/time.ts';
import type { Arrangement, Player, Team } from '../arrangement.ts';
import { bassDirections } from './bass-directions.ts';
import { withBassEndings, withEndingSigns } from './bass-endings.ts';
import { asVoice, bassLine, type BassNote } from './bass-line.ts';
import { neckOf } from './bass-neck.ts';
import { numbersOf } from './bass-numbers.ts';
import type { Footing } from './bass-pedal.ts';
import { bassPlayIn } from './bass-play.ts';
import { practiceBass, type PlacedBass } from './bass-practice.ts';
import { bassSong, LEVEL_OF, rungOf, type BassRung, type BassSong } from './bass-song.ts';
import { BASS_CAUTIONS, sayBassStart, sumUpBass } from './bass-words.ts';
import { layOut } from '../laid-out.ts';
import type { Part } from '../part.ts';
import type { PlayedChord } from '../played-chords.ts';
import { densityFor } from '../rung-density.ts';
import { writtenOut } from '../form/written-out.ts';

/**
 * What the bass plays, one of three rungs (`Rungs.bass`, else by the player's level; a section may have its own), each a whole part over the same bass notes: the root of
 * each chord, or the slash bass that a person wrote (a bass that was found in the voices is left to who plays it, as at
 * the keys).
 *
 * 1. Those notes alone, in first position with the least jumps, struck as the texture of the passes asks.
 * 2. With them the fifth on the middle beat, and a step into each new chord on the last beat before it.
 * 3. In full textures a line on every felt beat, chord notes on the strong ones; in calm ones the bass that is written in
 *    the song where it agrees with the chords (see `writtenBass`), into a cadence the dominant held (see `heldUnder`),
 *    else the line of the second rung.
 *
 * From the second rung on the bass strikes with the drummer's kick. Pitches are what sounds, from E1 (with five strings
 * B0) to B2, walking to D3; the clef with an 8 sets them an octave higher, where bass players read them. The bass plays
 * from the introduction on and rests in the singers' pickup unless somebody wrote a chord over it.
 */
export function bassPart(
  score: Score,
  arrangement: Arrangement,
  player: Player,
  team: Team,
): Result<Part> {
  const density = densityFor(arrangement.density, player);
  const laidOut = layOut(score, arrangement, saysIn(player.names), density);
  if (!laidOut.ok) return laidOut;
  const { whole, count } = laidOut.value;
  const written = writtenOut(whole, bassPlayIn(whole, player, team));
  const read = bassSong(written, player, team);
  if (!read.ok) return read;
  const song = read.value;
  const line = bassLine(song);
  const { notes: played, footings } = line;
  const notes = withBassEndings(song, played);
  const places = placeHand(
    notes.map(({ pitch }) => pitch),
    song.strings,
  );
  const held = heldNotes(song, notes, places, footings);
  const bass: Voice = {
    id: 'bass',
    name: 'Bass',
    group: 'Bass',
    staff: 2,
    clef: 'bass-8',
    notes: withEndingSigns(song, asVoice(written.score, notes)),
  };
  const melody: Voice = { ...melodyOf(written.score), id: 'melody', group: 'Singer', staff: 1 };
  const says = saysIn(player.names);
  const part: Part = {
    role: 'bass',
    level: LEVEL_OF[rungOf(player)],
    score: {
      ...written.score,
      melody: 'melody',
      voices: [melody, bass],
      chords: song.chords,
    },
    printed: ['bass'],
    shapes: [],
    moves: [],
    directions: bassDirections(laidOut.value, written, song, line, says),
    countIn: count.words,
    summary: sumUpBass(held, highestOf(player), says),
    order: laidOut.value.order,
    introduction: sayBassStart(laidOut.value, held, says),
    practice: practiceBass(written.score, held, says),
    cautions: BASS_CAUTIONS,
    numbers: numbersOf(written.score, notes),
    neck: neckOf(held, says),
  };
  return success(part);
}

/** The highest step that is played somewhere. */
function highestOf(player: Player): BassRung {
  const own = Object.values(player.rungs?.sections ?? {}).flatMap(({ bass }) => bass ?? []);
  return [rungOf(player), ...own].reduce((most, rung) => (rung > most ? rung : most));
}

/** Notes with their places, those that are only struck again joined. */
function heldNotes(
  song: BassSong,
  notes: readonly BassNote[],
  places: readonly HandPlace[],
  footings: readonly Footing[],
): PlacedBass[] {
  const held: PlacedBass[] = [];
  notes.forEach((note, i) => {
    const { from, to, pitch, chord, role } = note;
    const before = held.at(-1);
    const entry = song.chords[chord] as PlayedChord;
    const place = places[i] as HandPlace;
    // Each chord of a first rung counts by itself, so that what follows what is told by chords.
    const again = role === 'again' && before?.pitch === pitch && before.to === from;
    if (again) held[held.length - 1] = { ...before, to };
    else held.push({ from, to, pitch, entry, place, doing: doingOf(song, note, footings[chord]) });
  });
  return held;
}

/** What is played with a note: where the song has no bass of its own to play, what the second rung plays. */
function doingOf(
  song: BassSong,
  { from, written }: BassNote,
  footing: Footing | undefined,
): PlacedBass['doing'] {
  const mode = song.modeAt(from);
  if (mode !== 'written' || written) return mode;
  return footing?.pedal ? 'pedal' : 'fifths';
}
