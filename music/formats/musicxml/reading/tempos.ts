import type { Bar, Score } from '../../../score/score.ts';
import { sayLeft, temposFrom } from '../../../score/tempos.ts';
import type { Report } from '../../report.ts';
import { sayThinned, writtenTempos } from '../../written-tempos.ts';
import type { Frame } from './bars.ts';
import type { ReadPart } from './read-part.ts';

/**
 * The tempos of all parts, which are those of the song, whichever part says them. Of what is said at one moment the printed
 * one counts, then the first. Programs that play a ritardando write a hidden tempo for every step of it: those are thinned
 * as in MIDI, what is printed stays.
 */
export function temposOf(
  parts: readonly ReadPart[],
  frame: Frame,
  bars: readonly Bar[],
  report: Report,
): Pick<Score, 'tempo' | 'tempoChanges'> {
  const all = parts
    .flatMap(({ said }) =>
      said.flatMap(({ said: each, measure, at, line }) =>
        each.kind === 'tempo' ? [{ ...each, at: (frame.starts[measure] ?? 0) + at, line }] : [],
      ),
    )
    .sort((a, b) => a.at - b.at || Number(b.printed) - Number(a.printed));
  const said = all.filter(({ at }, i) => at < frame.end && at !== all[i - 1]?.at);
  const kept = writtenTempos(said, { bars, meters: frame.meters }, ({ printed }) => printed);
  const line = said[1]?.line ?? 1;
  if (kept.length < said.length) {
    report.warn('info-tempo-changes', sayThinned(said.length, kept.length), { line });
  }
  const { tempos, left } = temposFrom(
    kept.map(({ at, tempo }) => ({ at, tempo })),
    bars,
  );
  if (left > 0) report.warn('tempo-changes', sayLeft(left), { line });
  return tempos;
}
