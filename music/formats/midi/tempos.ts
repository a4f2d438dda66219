import type { Problem } from '../../result.ts';
import { QUARTER, type Bar, type MeterAt, type Score, type Ticks } from '../../score/score.ts';
import { sayLeft, temposFrom } from '../../score/tempos.ts';
import { barLength, feltBeat, inForce } from '../../score/time.ts';
import type { Frame } from './frame.ts';
import type { Smf } from './smf.ts';

/** The length of a quarter from a moment of the song on. */
interface Step {
  readonly at: Ticks;
  readonly microseconds: number;
}

/** Up to this many changes, or one in so many bars, are taken for written ones (our own figures: what a page could print). */
const [ALWAYS_KEPT, BARS_PER_CHANGE] = [8, 4];
/** Of more, those that last so many bars and are so much faster or slower than what was kept before. */
const [BARS_HELD, LEAST_RATIO] = [2, 1.05];

/**
 * The tempos of a file, each in the felt beat of its meter, to a hundredth of a beat a minute. A file of a performance may
 * step its tempo at every beat: where there are more changes than a page would print, only those are kept that hold for
 * two bars and differ by a twentieth, and the rest is told.
 * @param from a moment of the file on the time line of the song
 */
export function temposOf(
  smf: Smf,
  { bars, meters }: Frame,
  from: (moment: number) => Ticks,
  warnings: Problem[],
): Pick<Score, 'tempo' | 'tempoChanges'> {
  const said = stepsOf(smf, from);
  const most = Math.max(ALWAYS_KEPT, Math.floor(bars.length / BARS_PER_CHANGE));
  const steps = said.length - 1 > most ? thinned(said, bars, meters) : said;
  if (steps.length < said.length) {
    const kept =
      steps.length < 2
        ? 'only the first is kept'
        : `only the ${steps.length - 1} that hold for ${BARS_HELD} bars or more are kept`;
    const message = `The tempo changes ${said.length - 1} times, as it does where somebody played; ${kept}.`;
    warnings.push({ code: 'info-tempo-changes', message });
  }
  const read = temposFrom(
    steps.map(({ at, microseconds }) => {
      const beat = feltBeat(inForce(meters, at).meter);
      const exact = (60_000_000 / microseconds) * (QUARTER / beat);
      return { at, tempo: { beat, perMinute: held(Math.round(exact * 100) / 100) } };
    }),
    bars,
  );
  if (read.left > 0) warnings.push({ code: 'info-tempo-changes', message: sayLeft(read.left) });
  return read.tempos;
}

/** What a score can hold; beyond it is a slip of the file. */
const held = (perMinute: number): number => Math.min(1000, Math.max(1, perMinute));

/** The tempo at the start of the song and where it changes; of two at one moment the last counts, as for who plays it. */
function stepsOf(smf: Smf, from: (moment: number) => Ticks): Step[] {
  const events = smf.tracks
    .flatMap(({ tempos }) => tempos)
    .filter(({ microseconds }) => microseconds > 0)
    .map(({ at, microseconds }): Step => ({ at: Math.max(0, Math.round(from(at))), microseconds }))
    .sort((a, b) => a.at - b.at);
  const last = events.filter(({ at }, i) => at !== events[i + 1]?.at);
  return last.filter(({ microseconds }, i) => microseconds !== last[i - 1]?.microseconds);
}

function thinned(steps: readonly Step[], bars: readonly Bar[], meters: readonly MeterAt[]): Step[] {
  const last = bars.at(-1);
  const end = last ? last.at + last.length : 0;
  const kept: Step[] = [];
  for (const [i, step] of steps.entries()) {
    const before = kept.at(-1);
    if (!before) {
      kept.push(step);
      continue;
    }
    const lasts = (steps[i + 1]?.at ?? end) - step.at;
    const full = barLength(inForce(meters, step.at).meter) ?? 4 * QUARTER;
    const ratio = step.microseconds / before.microseconds;
    if (lasts >= BARS_HELD * full && Math.max(ratio, 1 / ratio) >= LEAST_RATIO) kept.push(step);
  }
  return kept;
}
