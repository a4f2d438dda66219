import { pitchOn } from '../../hand/candidates.ts';
import { scaleOf } from '../../pitch/key.ts';
import { midiOf, pitchClassOf, type PitchName } from '../../pitch/pitch.ts';
import type { Note, Ticks } from '../../score/score.ts';
import { feltBeat, keyAt, meterAt } from '../../score/time.ts';
import { strikesInBar } from '../patterns.ts';
import type { KeysSong } from './keys-song.ts';
import { leftFigure } from './left-figures.ts';
import type { Footing } from './left-notes.ts';

/** What is struck next: pitches with their fingers, low to high. */
interface Struck {
  readonly pitches: readonly PitchName[];
  readonly fingers: readonly number[];
}

/** The notes of a left hand in its figures, bar by bar: a new chord is struck at once; rests where there is none. */
export function inFigures(song: KeysSong, footings: readonly Footing[]): Note[] {
  const { score, chords } = song;
  const hasDrums = song.team.roles.includes('drums');
  const notes: Note[] = [];
  score.bars.forEach((bar, index) => {
    const end = bar.at + bar.length;
    const figure = leftFigure(song.rungsAt(bar.at).left, hasDrums);
    const strikes = strikesInBar(score, index, song.textureAt, figure);
    let done = bar.at;
    const rest = (to: Ticks) => {
      if (to > done) notes.push({ at: done, length: to - done, pitches: [] });
      done = Math.max(done, to);
    };
    chords.forEach(({ at, length }, chord) => {
      const [from, to] = [Math.max(at, bar.at), Math.min(at + length, end)];
      const footing = footings[chord];
      if (to <= from || !footing) return;
      rest(from);
      const later = strikes.map((strike) => strike.at).filter((each) => each > from && each < to);
      const own: Note[] = [];
      [from, ...later].forEach((start, turn, all) => {
        const before = own.at(-1);
        const step = approach(song, footings, chord, start);
        // A step that is what was just struck leads nowhere.
        const leads = step !== null && !isSame(before, step);
        const struck = leads ? step : inTurn(footing, turn, fromTheBass(song, start));
        const length = (all[turn + 1] ?? to) - start;
        if (before && isHeldOn(song, footing) && isSame(before, struck))
          own.splice(-1, 1, { ...before, length: before.length + length });
        else own.push({ at: start, length, ...struck });
      });
      notes.push(...own);
      done = to;
    });
    rest(end);
  });
  return sparse(notes);
}

const isSame = (note: Note | undefined, { pitches }: Struck): boolean =>
  note?.pitches.join(' ') === pitches.join(' ');

/** Single notes that the rung would have in turn with others are held: again they would only be heavier. */
const isHeldOn = ({ team }: KeysSong, { octave, rung }: Footing): boolean =>
  team.roles.includes('bass') || (rung > 2 && octave === null);

/** In `swaying` what follows the low note in the same bar is its octave, whatever the rung has in turn. */
const fromTheBass = (song: KeysSong, at: Ticks): boolean => song.textureAt(at) === 'swaying';

function inTurn({ low, octave, fifth, rung }: Footing, turn: number, swaying: boolean): Struck {
  const alone = { pitches: [low], fingers: [5] };
  if (rung === 1) return alone;
  if (octave === null)
    return rung === 4 && fifth !== null && turn % 2 === 1
      ? { pitches: [fifth], fingers: [1] }
      : alone;
  const high = { pitches: [octave], fingers: [1] };
  if (rung === 2) return { pitches: [low, octave], fingers: [5, 1] };
  if (rung === 3 || swaying || fifth === null) return turn % 2 === 0 ? alone : high;
  const between = { pitches: [fifth], fingers: [2] };
  return [alone, between, high, between][turn % 4] ?? alone;
}

/**
 * On the fourth rung the last felt beat of a chord of two beats or more leads by a step of the scale into the next note,
 * from the side that the hand comes from; never where a section or a repeat ends, as something else may follow.
 */
function approach(
  { score, chords, team }: KeysSong,
  footings: readonly Footing[],
  chord: number,
  at: Ticks,
): Struck | null {
  const [here, next] = [chords[chord], chords[chord + 1]];
  const [from, to] = [footings[chord], footings[chord + 1]];
  if (!here || !next || !from || !to || from.rung !== 4 || to.rung !== 4) return null;
  if (team.roles.includes('bass') || from.octave === null) return null;
  const beat = feltBeat(meterAt(score, at));
  const ends = here.at + here.length;
  if (next.at !== ends || here.length < 2 * beat || at < ends - beat) return null;
  const isCut =
    score.sections.some((section) => section.from === ends) ||
    score.bars.some((bar) => bar.at + bar.length === ends && bar.repeatEnd);
  const way = midiOf(to.low) - midiOf(from.low);
  if (isCut || way === 0) return null;
  const pitch = stepBeside(score, to.low, at, way > 0 ? -1 : 1);
  return pitch === null ? null : { pitches: [pitch], fingers: [way > 0 ? 3 : 2] };
}

/** The note of the scale a step below (−1) or above (1) a pitch; null: none within a whole tone. */
function stepBeside(
  score: KeysSong['score'],
  pitch: PitchName,
  at: Ticks,
  side: -1 | 1,
): PitchName | null {
  const scale = scaleOf(keyAt(score, at).key);
  for (const far of [1, 2]) {
    const key = midiOf(pitch) + side * far;
    const note = scale.find((each) => pitchClassOf(each) === ((key % 12) + 12) % 12);
    if (note !== undefined) return pitchOn(note, key);
  }
  return null;
}

/** Fingers stand where a note is not the one, or the ones, that the hand struck before. */
function sparse(notes: readonly Note[]): Note[] {
  let before = '';
  return notes.map((note): Note => {
    const now = note.pitches.join(' ');
    const again = now === before;
    before = now;
    if (!again || now === '') return note;
    const { fingers: _, ...rest } = note;
    return rest;
  });
}
