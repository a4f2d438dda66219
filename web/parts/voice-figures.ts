import { Intervals, KeyFit, type Asked, type Demands, type FitRow, type SectionFit } from '#music';

/** A line of figures: the whole song first, then its sections. */
export interface FigureLine {
  readonly what: string;
  readonly values: readonly string[];
}

type Lies = FitRow | SectionFit;

const percent = (share: number): string =>
  share === 0 ? '–' : `${Math.max(1, Math.round(100 * share))}\u00a0%`;

const minus = (value: number): string => (value < 0 ? `−${-value}` : String(value));
const signed = (value: number): string => (value > 0 ? `+${value}` : minus(value));

/** How the song and each of its sections lie in a voice, and what they ask of it. Distances are half steps. */
export function figuresOf({ row, perSection, ...whole }: Demands): FigureLine[] {
  const fits: readonly Lies[] = row.perSection.length > 1 ? [row, ...row.perSection] : [row];
  const asked: readonly Asked[] = perSection.length > 1 ? [whole, ...perSection] : [whole];
  const fit = (what: string, say: (fit: Lies) => string): FigureLine => ({
    what,
    values: fits.map(say),
  });
  const ask = (what: string, say: (asked: Asked) => string): FigureLine => ({
    what,
    values: asked.map(say),
  });
  return [
    fit('time outside', (each) => percent(each.shareOutside)),
    fit('time at the top', (each) => percent(each.shareAtTop)),
    fit('time at the bottom', (each) => percent(each.shareAtBottom)),
    fit('half steps to spare above', (each) => minus(each.upperReserve)),
    fit('half steps to spare below', (each) => minus(each.lowerReserve)),
    fit('shift', (each) => signed(each.shift)),
    ask('long notes at the top', ({ long }) =>
      long.count === 0 ? '–' : `${long.atTop} of ${long.count}`,
    ),
    ask('biggest leap', ({ leap }) =>
      leap
        ? `${Intervals.nameInterval(leap.interval)} ${leap.interval.semitones > 0 ? 'up' : 'down'}`
        : '–',
    ),
    whole.phrase.seconds === null
      ? ask('longest breath', ({ phrase }) => KeyFit.sayBeats(phrase.felt))
      : ask('longest breath, seconds', ({ phrase }) => (phrase.seconds ?? 0).toFixed(1)),
  ];
}
