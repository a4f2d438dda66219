import type { Problem } from '../../result.ts';
import { QUARTER, type Score, type TempoAt, type Ticks } from '../../score/score.ts';
import { sayLeft, temposFrom } from '../../score/tempos.ts';
import { feltBeat, inForce } from '../../score/time.ts';
import { sayThinned, writtenTempos } from '../written-tempos.ts';
import type { Frame } from './frame.ts';
import type { Smf } from './smf.ts';

/**
 * The tempos of a file, each in the felt beat of its meter, to a hundredth of a beat a minute; those of a performance are
 * thinned (see `writtenTempos`), which is told.
 * @param from a moment of the file on the time line of the song
 */
export function temposOf(
  smf: Smf,
  frame: Frame,
  from: (moment: number) => Ticks,
  warnings: Problem[],
): Pick<Score, 'tempo' | 'tempoChanges'> {
  const said = stepsOf(smf, frame, from);
  const steps = writtenTempos(said, frame);
  if (steps.length < said.length) {
    warnings.push({ code: 'info-tempo-changes', message: sayThinned(said.length, steps.length) });
  }
  const { tempos, left } = temposFrom(steps, frame.bars);
  if (left > 0) warnings.push({ code: 'info-tempo-changes', message: sayLeft(left) });
  return tempos;
}

/** The tempo at the start of the song and where it changes; of two at one moment the last counts, as for who plays it. */
function stepsOf(smf: Smf, { meters }: Frame, from: (moment: number) => Ticks): TempoAt[] {
  const events = smf.tracks
    .flatMap(({ tempos }) => tempos)
    .filter(({ microseconds }) => microseconds > 0)
    .map(({ at, microseconds }) => ({ at: Math.max(0, from(at)), microseconds }))
    .sort((a, b) => a.at - b.at);
  const last = events.filter(({ at }, i) => at !== events[i + 1]?.at);
  return last
    .filter(({ microseconds }, i) => microseconds !== last[i - 1]?.microseconds)
    .map(({ at, microseconds }): TempoAt => {
      const beat = feltBeat(inForce(meters, at).meter);
      const exact = (60_000_000 / microseconds) * (QUARTER / beat);
      return { at, tempo: { beat, perMinute: held(Math.round(exact * 100) / 100) } };
    });
}

/** What a score can hold; beyond it is a slip of the file. */
const held = (perMinute: number): number => Math.min(1000, Math.max(1, perMinute));
