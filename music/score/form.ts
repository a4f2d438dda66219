import { namePass, verseSaid } from './pass-names.ts';
import type { Bar, Pass, Score, Section, Span, Ticks } from './score.ts';

export { namePass, verseSaid } from './pass-names.ts';

/** A pass with its section, ready to be named on a screen. */
export interface NamedPass {
  readonly pass: Pass;
  readonly section: Section;
  /** Which time through this section it is, from 1; copies of it count with it. */
  readonly time: number;
  /** The verse as it is said; null: the pass has none, or its section's name says enough. */
  readonly verse: number | null;
  /** `Verse 2`, `Refrain`; a section that is not a verse carries its verse only where that differs: `Refrain (2)`. */
  readonly name: string;
}

/** A stretch of the score that is played without a jump. */
export interface Stretch extends Span {
  /** Index of the pass in `passesOf`. */
  readonly index: number;
  readonly pass: Pass;
  /** Which time through its repeat, from 1. */
  readonly round: number;
  /** Where it begins when the whole song is played from its start. */
  readonly playedAt: Ticks;
}

/** A song whose form is empty is played once through, section by section. */
export function passesOf(score: Score): NamedPass[] {
  const form: readonly Pass[] =
    score.form.length > 0
      ? score.form
      : score.sections.map((section) => ({ section: section.id, verse: null }));
  const times = new Map<string, number>();
  return form.map((pass) => {
    const section = score.sections.find((each) => each.id === pass.section);
    if (!section)
      throw new RangeError(`the form names a section ${pass.section} that the song has not`);
    const source = section.copyOf ?? section.id;
    const time = (times.get(source) ?? 0) + 1;
    times.set(source, time);
    const verse = verseSaid(score, pass);
    const name = section.kind === 'verse' ? namePass(section, verse) : section.name;
    return { pass, section, time, verse, name };
  });
}

/**
 * What is played, in order: the passes of the form with repeats and endings of the bars resolved. Inside a pass a
 * repeat is played twice, or as often as its endings are numbered. Where a section has as many passes as its endings
 * have numbers, the endings belong to the passes: pass 1 takes ending 1 and the repeat sign means the next verse.
 */
export function unfold(score: Score): Stretch[] {
  const passes = passesOf(score);
  const stretches: Stretch[] = [];
  let playedAt = 0;
  passes.forEach(({ pass, section, time }, index) => {
    const bars = score.bars.filter(
      (bar) => bar.at < section.to && bar.at + bar.length > section.from,
    );
    const count = passes.filter((each) => each.section.id === section.id).length;
    const highest = Math.max(0, ...bars.flatMap((bar) => bar.endings));
    const rounds = highest > 1 && highest === count ? oneRound(bars, time) : allRounds(bars);
    for (const { from, to, round } of join(rounds)) {
      const start = Math.max(from, section.from);
      const end = Math.min(to, section.to);
      if (end <= start) continue;
      stretches.push({ index, pass, round, from: start, to: end, playedAt });
      playedAt += end - start;
    }
  });
  return stretches;
}

interface Played {
  readonly bar: Bar;
  readonly round: number;
}

/** The endings belong to the passes: the bars of this pass's ending, and all that have none. */
function oneRound(bars: readonly Bar[], time: number): Played[] {
  return bars
    .filter((bar) => bar.endings.length === 0 || bar.endings.includes(time))
    .map((bar) => ({ bar, round: time }));
}

/** Bars in playing order. A repeat without a start sign goes back to the last repeat's end, or the beginning. */
function allRounds(bars: readonly Bar[]): Played[] {
  const played: Played[] = [];
  let start = 0;
  let round = 1;
  let i = 0;
  while (i < bars.length) {
    const bar = bars[i] as Bar;
    if (bar.repeatStart && i !== start) {
      start = i;
      round = 1;
    }
    const skipped = bar.endings.length > 0 && !bar.endings.includes(round);
    if (!skipped) played.push({ bar, round });
    if (bar.repeatEnd && !skipped && round < timesOf(bars, start, i)) {
      round += 1;
      i = start;
      continue;
    }
    const next = bars[i + 1];
    const over = bar.repeatEnd && (next === undefined || next.endings.length === 0);
    const endingOver = bar.endings.length > 0 && next?.endings.length === 0;
    if (over || endingOver) {
      start = i + 1;
      round = 1;
    }
    i += 1;
  }
  return played;
}

/** How often a repeated stretch is played: as often as its endings are numbered, else twice. */
function timesOf(bars: readonly Bar[], start: number, end: number): number {
  let highest = 2;
  for (let i = start; i < bars.length; i += 1) {
    const bar = bars[i] as Bar;
    if (i > end && bar.endings.length === 0) break;
    highest = Math.max(highest, ...bar.endings);
  }
  return highest;
}

function join(played: readonly Played[]): (Span & { readonly round: number })[] {
  const spans: { from: Ticks; to: Ticks; round: number }[] = [];
  for (const { bar, round } of played) {
    const last = spans.at(-1);
    if (last && last.to === bar.at && last.round === round) last.to = bar.at + bar.length;
    else spans.push({ from: bar.at, to: bar.at + bar.length, round });
  }
  return spans;
}
