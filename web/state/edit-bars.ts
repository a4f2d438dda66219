import { Keys, QUARTER, Time, type Key, type Meter, type Score, type Ticks } from '#music';
import { sayLength } from './edit-length.ts';

/** The meters that are offered, by the note that is counted (the usual ones of hymnals, common practice). */
export const METER_GROUPS: readonly {
  readonly name: string;
  readonly meters: readonly string[];
}[] = [
  { name: 'in quarters', meters: ['4/4', '3/4', '2/4', '6/4', '5/4', '1/4'] },
  { name: 'in halves', meters: ['2/2', '3/2', '4/2'] },
  { name: 'in eighths', meters: ['3/8', '6/8', '9/8', '12/8', '7/8'] },
  { name: 'without bars of one length', meters: ['free'] },
];

/** The keys that are offered: major and minor, then those of the modes that tunes are written in besides. */
export const KEY_GROUPS: readonly { readonly name: string; readonly keys: readonly Key[] }[] = [
  { name: 'major and minor', modes: ['major', 'minor'] as const },
  { name: 'modes', modes: ['dorian', 'mixolydian', 'phrygian', 'lydian', 'locrian'] as const },
].map(({ name, modes }) => ({ name, keys: modes.flatMap(Keys.keysToOffer) }));

export const METERS: readonly string[] = METER_GROUPS.flatMap(({ meters }) => meters);

/** `3/4`, `free` */
export function writeMeter({ beats, unit }: Meter): string {
  return beats === null ? 'free' : `${beats}/${unit}`;
}

/** What `writeMeter` wrote. */
export function readMeter(text: string): Meter {
  const [beats = 4, unit = 4] = text.split('/').map(Number);
  return text === 'free' ? { beats: null, unit: 4 } : { beats, unit };
}

export interface Choice {
  readonly length: Ticks;
  readonly name: string;
}

/** `1½ beats`, `½ beat`; empty where it is no number of half beats. */
function sayBeats(length: Ticks, beat: Ticks): string {
  const halves = (2 * length) / beat;
  if (!Number.isInteger(halves)) return '';
  const whole = Math.floor(halves / 2);
  const number = `${whole === 0 ? '' : whole}${halves % 2 === 1 ? '½' : ''}`;
  return `${number} ${halves <= 2 ? 'beat' : 'beats'}`;
}

/**
 * The pickups that fit below a bar: any number of eighths or half beats, whichever is shorter; where a beat has three of
 * the lower figure's note, any number of those. One that the song has besides is offered as what it is.
 * @param now length of the pickup that the song has, ticks; 0: none
 */
export function pickups(meter: Meter, now: Ticks): Choice[] {
  const full = Time.barLength(meter);
  const unit = Time.unitTicks(meter.unit);
  const beat = Time.feltBeat(meter);
  const step = beat > unit ? unit : Math.min(unit / 2, QUARTER / 2);
  const count = full === null ? 0 : Math.ceil(full / step) - 1;
  const fit = Array.from({ length: count }, (_, i): Choice => {
    const length = (i + 1) * step;
    const beats = sayBeats(length, beat);
    const notes = sayNotes(length, step);
    return { length, name: beats === '' ? notes : `${beats}: ${notes}` };
  });
  const all = [{ length: 0, name: 'none' }, ...fit];
  if (all.some(({ length }) => length === now)) return all;
  return [...all, { length: now, name: `${sayLength(now)}, as it is` }].sort((a, b) => a.length - b.length); // prettier-ignore
}

/** One written note where there is one for it, else so many short ones: `dotted quarter`, `5 eighths`. */
function sayNotes(length: Ticks, step: Ticks): string {
  const one = sayLength(length);
  return one.endsWith('quarters') ? `${length / step} ${sayLength(step)}s` : one;
}

/** The notes a tempo is counted in, as they are offered. */
export const COUNTED: readonly Choice[] = [
  QUARTER / 2,
  QUARTER,
  1.5 * QUARTER,
  2 * QUARTER,
  3 * QUARTER,
].map((length) => ({ length, name: sayLength(length) }));

/** The note that is counted at a moment where nobody said another: the felt beat. */
export function countedAt(score: Score, at: Ticks): Ticks {
  return Time.tempoAt(score, at)?.beat ?? Time.feltBeat(Time.meterAt(score, at));
}

/** Endings that are offered: four, or one more than the song has by now. */
export function endingsOffered({ bars }: Pick<Score, 'bars'>): number[] {
  const highest = Math.max(0, ...bars.flatMap(({ endings }) => endings));
  return Array.from({ length: Math.max(4, highest + 1) }, (_, i) => i + 1);
}

/** `ending 1`, `endings 1, 3`; empty: none. */
export function sayEndings(endings: readonly number[]): string {
  if (endings.length === 0) return '';
  return `${endings.length === 1 ? 'ending' : 'endings'} ${endings.join(', ')}`;
}
