import { isSameShape } from '../../hand/move-words.ts';
import type { Shape } from '../../hand/shape.ts';
import type { PitchName } from '../../pitch/pitch.ts';
import { QUARTER, type Note, type Score, type Ticks } from '../../score/score.ts';
import { barAt, feltBeat, meterAt } from '../../score/time.ts';
import { TEXTURES, type Texture } from '../arrangement.ts';
import { FIGURES, patternOf, strikesInBar, type Strike as Beat, type Touch } from '../patterns.ts';
import type { KeysSong } from './keys-song.ts';

/** In a broken chord of four the two notes between are `middle` and `upper`. */
type Strike = Omit<Beat, 'touch'> & { readonly touch: Touch | 'upper' };

/** How one hand plays the shapes that it holds. */
export interface HandPlay {
  readonly hand: 'right' | 'left';
  /** What is held under each chord of the song, in order. */
  readonly held: readonly Shape[];
  readonly textureAt: (at: Ticks) => Texture;
  /** The note of a shape that is repeated softly, by chord and moment; missing: the lowest of three, the thumb's. */
  readonly one?: (chord: number, at: Ticks) => PitchName | undefined;
  /** Whether one note is repeated softly on every felt beat; missing: nowhere. */
  readonly pulseAt?: (at: Ticks) => boolean;
}

/**
 * A hand's notes in its texture, bar by bar. What is struck lasts until the hand strikes next, to the end of its chord or
 * bar at most; rests fill the rest. A new chord is struck at once, but by a right hand that sways: that comes after the
 * bass, at its next strike. Where no strike of the texture falls inside a chord, or a broken chord has no time for all
 * its notes, the whole chord is struck as it begins, so that every chord sounds complete. Broken chords begin again with
 * each chord. Fingers stand on each note of a shape where it is first struck, and again after a rest.
 */
export function inTexture(song: Pick<KeysSong, 'score' | 'chords'>, play: HandPlay): Note[] {
  const { score, chords } = song;
  const notes: Note[] = [];
  let last: Shape | null = null;
  let shown = new Set<PitchName>();
  const rest = (from: Ticks, to: Ticks) => {
    if (to <= from) return;
    notes.push({ at: from, length: to - from, pitches: [] });
    last = null;
  };
  score.bars.forEach((bar, index) => {
    const struck = strikesInBar(score, index, play.textureAt, FIGURES[play.hand]);
    const pulsed = pulsesInBar(score, index, play).filter((pulse) =>
      struck.every(({ at }) => at !== pulse.at),
    );
    const strikes = [...struck, ...pulsed].sort((a, b) => a.at - b.at);
    const turn = patternOf(meterAt(score, bar.at), 'broken').right;
    const end = bar.at + bar.length;
    let done = bar.at;
    chords.forEach(({ at, length }, chord) => {
      const [from, to] = [Math.max(at, bar.at), Math.min(at + length, end)];
      const shape = play.held[chord];
      if (to <= from || !shape || shape.notes.length === 0) return;
      rest(done, from);
      done = from;
      const waits = play.hand === 'right' && play.textureAt(from) === 'swaying';
      const mayPulse = ({ at }: Strike) => play.one?.(chord, at) !== undefined;
      const here = strikes.filter((each) => !pulsed.includes(each) || mayPulse(each));
      const own = strikesOfChord(here, turn, from, to, shape.notes.length, waits);
      own.forEach((strike, i) => {
        rest(done, strike.at);
        const until = own[i + 1]?.at ?? to;
        const pitches = touched(shape, strike, () => play.one?.(chord, strike.at));
        if (last === null || !isSameShape(last, shape)) shown = new Set();
        const isShown = pitches.every((pitch) => shown.has(pitch));
        for (const pitch of pitches) shown.add(pitch);
        notes.push({
          at: strike.at,
          length: until - strike.at,
          pitches,
          ...(isShown ? {} : { fingers: fingersOf(shape, pitches) }),
          ...(strike.soft ? { soft: true as const } : {}),
        });
        last = shape;
        done = until;
      });
    });
    rest(done, end);
  });
  return beamed(score, notes);
}

/** Up to `leading`: chords are held for most of a bar. */
export const isCalm = (texture: Texture): boolean =>
  TEXTURES.indexOf(texture) <= TEXTURES.indexOf('leading');

/** Felt beats on which one note is repeated softly; a full texture is pulse enough. */
function pulsesInBar(score: Score, index: number, { pulseAt, textureAt }: HandPlay): Strike[] {
  if (!pulseAt) return [];
  const asEveryBeat = (at: Ticks): Texture =>
    pulseAt(at) && isCalm(textureAt(at)) ? 'every beat' : 'held';
  const beats = strikesInBar(score, index, asEveryBeat, FIGURES.right);
  return beats
    .filter(({ at }) => asEveryBeat(at) === 'every beat')
    .map(({ at }): Strike => ({ at, touch: 'one', soft: true }));
}

/** Notes with flags are beamed within their felt beat. */
export function beamed(score: Score, notes: readonly Note[]): Note[] {
  return notes.map((note, i) => {
    const next = notes[i + 1];
    const flagged = (each: Note) => each.pitches.length > 0 && each.length < QUARTER;
    if (!next || !flagged(note) || !flagged(next)) return note;
    const bar = barAt(score, note.at);
    const beat = feltBeat(meterAt(score, note.at));
    const beatOf = (at: Ticks) => Math.floor((at - bar.at) / beat);
    const isIn = next.at < bar.at + bar.length && beatOf(next.at) === beatOf(note.at);
    return isIn ? { ...note, beam: true } : note;
  });
}

/** The strikes of a bar that fall inside one of its chords, and the chord's own where it begins. */
function strikesOfChord(
  strikes: readonly Strike[],
  turn: readonly Strike[],
  from: Ticks,
  to: Ticks,
  size: number,
  waits: boolean,
): Strike[] {
  const inside = strikes.filter(({ at }) => at >= from && at < to);
  const whole: Strike = { at: from, touch: 'all' };
  const [first] = inside;
  if (!first) return [whole];
  if (first.touch === 'low' || first.touch === 'middle' || first.touch === 'high') {
    if (first.at > from || inside.length < size) return [whole];
    const broken = inside.map(({ at }, i): Strike => ({
      at,
      touch: turn[i % turn.length]?.touch ?? 'all',
    }));
    // A shape of four has two notes between: they take the middle in turn.
    const middles = broken.filter(({ touch }) => touch === 'middle').length;
    return size > 3 && middles < size - 2 ? [whole] : inTurn(broken);
  }
  const struck = waits || first.at === from ? inside : [whole, ...inside];
  // Nothing soft comes before the chord that it answers.
  return struck.map((each, i) => (i === 0 ? { at: each.at, touch: 'all' } : each));
}

/** Every other strike of the middle is that of the upper one. */
function inTurn(broken: readonly Strike[]): Strike[] {
  let middles = 0;
  return broken.map((strike): Strike => {
    if (strike.touch !== 'middle') return strike;
    middles += 1;
    return middles % 2 === 0 ? { ...strike, touch: 'upper' } : strike;
  });
}

function touched(
  { notes }: Shape,
  { touch }: Strike,
  one: () => PitchName | undefined,
): readonly PitchName[] {
  const pick = (index: number) => notes.slice(index).slice(0, 1);
  switch (touch) {
    case 'all':
      return notes;
    case 'one': {
      const wanted = one();
      return wanted !== undefined && notes.includes(wanted) ? [wanted] : pick(0);
    }
    case 'low':
      return pick(0);
    case 'middle':
      return pick(Math.min(1, notes.length - 1));
    case 'upper':
      return pick(Math.min(notes.length > 3 ? 2 : 1, notes.length - 1));
    case 'high':
      return pick(notes.length - 1);
  }
}

function fingersOf({ notes, fingers }: Shape, pitches: readonly PitchName[]): number[] {
  return pitches.map((pitch) => fingers[notes.indexOf(pitch)] ?? 3);
}
