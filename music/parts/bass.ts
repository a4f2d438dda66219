import { placeBass } from '../hand/bass-places.ts';
import { failure, success, type Result } from '../result.ts';
import type { Score, Ticks, Voice } from '../score/score.ts';
import { melodyOf } from '../score/time.ts';
import type { Arrangement, Player } from './arrangement.ts';
import { bassNotes, inSections, type HeldBass } from './bass-notes.ts';
import {
  BASS_CAUTIONS,
  bassDirections,
  practiceBass,
  sayBassStart,
  sumUpBass,
} from './bass-words.ts';
import { layOut } from './laid-out.ts';
import { sayOrder } from './order-words.ts';
import type { Part } from './part.ts';
import { noChords, playedChords } from './played-chords.ts';
import { writtenOut } from './written-out.ts';

/**
 * The first rung on the bass: the root of each chord, or the slash bass that a person wrote (a bass that was found in
 * the voices is left to who plays it, as at the keys), in first position with the least jumps, struck as the texture of
 * the passes asks. Pitches are what sounds, from E1 (with five strings B0); the clef with an 8 sets them an octave
 * higher, where bass players read them. The bass plays from the introduction on and rests in the singers' pickup unless somebody wrote a chord over it.
 */
export function bassBeginner(score: Score, arrangement: Arrangement, player: Player): Result<Part> {
  const laidOut = layOut(score, arrangement);
  if (!laidOut.ok) return laidOut;
  const { whole, count } = laidOut.value;
  const strings = player.instruments?.bassStrings ?? 4;
  const written = writtenOut(whole);
  const chords = inSections(playedChords(written.score), written.score.sections);
  if (chords.length === 0) return failure(noChords(whole));
  const pitches = placeBass(
    chords.map(({ chord }) => chord.bass ?? chord.root),
    strings,
  );
  const held = chords.map((entry, i): HeldBass => ({
    from: entry.at,
    to: entry.at + entry.length,
    pitch: pitches[i] ?? '',
    entry,
  }));
  const { sections } = written.score;
  const textureAt = (at: Ticks) => {
    const section = sections.find(({ from, to }) => at >= from && at < to);
    return (section && written.textures.get(section.id)) ?? 'held';
  };
  const bass: Voice = {
    id: 'bass',
    name: 'Bass',
    group: 'Bass',
    staff: 2,
    clef: 'bass-8',
    notes: bassNotes(written.score, held, textureAt),
  };
  const melody: Voice = { ...melodyOf(written.score), id: 'melody', group: 'Singer', staff: 1 };
  const part: Part = {
    role: 'bass',
    level: 'beginner',
    score: { ...written.score, melody: 'melody', voices: [melody, bass], chords },
    printed: ['bass'],
    shapes: [],
    moves: [],
    directions: bassDirections(laidOut.value, written),
    countIn: count.words,
    summary: sumUpBass(whole, held, strings),
    order: sayOrder(whole),
    introduction: sayBassStart(laidOut.value, held, strings),
    practice: practiceBass(written.score, held, strings),
    cautions: BASS_CAUTIONS,
  };
  return success(part);
}
