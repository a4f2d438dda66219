import type { Arrangement } from '../parts/arrangement.ts';
import { introductionOf } from '../parts/form/introduction.ts';
import { withLink } from '../parts/link/link-bars.ts';
import { linkOf } from '../parts/link/link.ts';
import { loopsIn } from '../parts/form/loop-words.ts';
import { unfold } from '../score/form.ts';
import { counted, listed } from '../score/number-words.ts';
import type { Pass, Score, Span } from '../score/score.ts';
import { inTempo, secondsBetween } from '../score/tempos.ts';
import { endOf, melodyOf, tempoAt } from '../score/time.ts';

/** How long a song takes as it is arranged. */
export interface SongLength {
  /** Introduction and every pass at the tempo; null: not known or open (a vamp), and `words` says why. */
  readonly seconds: number | null;
  /** `about 3 minutes 20 seconds, the introduction included; two fermatas are not counted`. */
  readonly words: string;
  /** Whether nothing in the song takes longer than it is written: no fermata, no free meter. */
  readonly sure: boolean;
}

const unknown = (words: string): SongLength => ({ seconds: null, words, sure: false });

/**
 * The passes of the form with their repeats and endings, the introduction before them, at the tempo of the arrangement,
 * else of the song, and where the song changes its tempo at that of each bar; the introduction is played in the first one,
 * as it leads into that; the bars that lead on to the next song at the end. The count before the song and what people take for breath between passes are not in it.
 */
export function ofSong(
  score: Score,
  arrangement: Pick<Arrangement, 'tempo' | 'form'> & Partial<Arrangement>,
): SongLength {
  if (score.untimed) return unknown('not known: the song has words and chords, and no time');
  const song = { ...inTempo(score, arrangement.tempo), form: arrangement.form ?? score.form };
  const { tempo } = song;
  if (!tempo) return unknown(song.tempoChanges ? 'not known: no tempo is given for its start' : 'not known: no tempo is given'); // prettier-ignore
  const played = unfold(song).filter(({ pass }) => !isLoop(song, pass));
  const lead = introductionOf(song).spans.reduce((sum, { from, to }) => sum + to - from, 0);
  const on = secondsOn(song, arrangement);
  const seconds = played.reduce(
    (sum, span) => sum + (secondsBetween(song, span) ?? 0),
    (secondsBetween({ tempo }, { from: 0, to: lead }) ?? 0) + on,
  );
  const loops = loopsIn(song);
  const fermatas = fermatasIn(song, played);
  const free = score.meters.some(({ meter }) => meter.beats === null);
  const doubts = [
    ...(fermatas > 0 ? [`${counted(fermatas, 'fermata is', 'fermatas are')} not counted`] : []),
    ...(free ? ['without a meter it takes as long as it is sung'] : []),
  ];
  const both = on > 0 ? 'the introduction and the bars on to the next song' : 'the introduction';
  const known = `about ${sayLength(seconds)}, ${both} included`;
  if (loops.length > 0) {
    const whole = seconds > 0 ? `${known}, and the ${listed(loops)}` : `the ${listed(loops)}`;
    return unknown([`open: ${whole} for as long as it is needed`, ...doubts].join('; '));
  }
  return { seconds, words: [known, ...doubts].join('; '), sure: doubts.length === 0 };
}

/** The bars that lead on to the next song, in the tempo that the song ends in; what is played over and over counts once. */
function secondsOn(song: Score, { key, density = 'bar', ...rest }: Partial<Arrangement>): number {
  if (!key || !rest.onward) return 0;
  const link = linkOf(song, { tempo: null, ...rest, key, density });
  const ticks = endOf(withLink(song, link)) - endOf(song);
  const tempo = tempoAt(song, (unfold(song).at(-1)?.to ?? 1) - 1);
  return secondsBetween({ tempo }, { from: 0, to: ticks }) ?? 0;
}

function isLoop({ sections }: Score, { section }: Pass): boolean {
  return sections.some(({ id, kind }) => id === section && kind === 'vamp');
}

/** Fermatas of the tune, each as often as it is sung. */
function fermatasIn(song: Score, spans: readonly Span[]): number {
  const held = melodyOf(song).notes.filter(({ fermata }) => fermata);
  return spans.reduce(
    (sum, { from, to }) => sum + held.filter(({ at }) => at >= from && at < to).length,
    0,
  );
}

/** Whole minutes that a length takes in an order of service: begun ones count. */
export function minutesOf(seconds: number): number {
  return Math.ceil(seconds / 60);
}

/** `3 minutes 20 seconds`, `50 seconds`, `1 minute`: to the nearest ten seconds, and at least ten. */
export function sayLength(seconds: number): string {
  const tens = Math.max(1, Math.round(seconds / 10));
  const [minutes, rest] = [Math.floor(tens / 6), (tens % 6) * 10];
  return [
    ...(minutes > 0 ? [`${minutes} ${minutes === 1 ? 'minute' : 'minutes'}`] : []),
    ...(rest > 0 ? [`${rest} seconds`] : []),
  ].join(' ');
}

/** `48 minutes`, `1 hour 5 minutes`. */
export function sayMinutes(minutes: number): string {
  const [hours, rest] = [Math.floor(minutes / 60), minutes % 60];
  const said = [
    ...(hours > 0 ? [`${hours} ${hours === 1 ? 'hour' : 'hours'}`] : []),
    ...(rest > 0 || hours === 0 ? [`${rest} ${rest === 1 ? 'minute' : 'minutes'}`] : []),
  ];
  return said.join(' ');
}
