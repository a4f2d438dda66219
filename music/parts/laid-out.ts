import { ENGLISH, type Says } from '../pitch/says.ts';
import { failure, success, type Failure, type Result } from '../result.ts';
import type { Density } from '../score/reduction.ts';
import type { Score, Section, Ticks } from '../score/score.ts';
import { unfold } from '../score/form.ts';
import type { Tempo } from '../score/score.ts';
import { endOf, tempoAt } from '../score/time.ts';
import { arranged } from './arranged.ts';
import type { Arrangement } from './arrangement.ts';
import { withLink } from './link/link-bars.ts';
import { isLink, linkOf, type Link } from './link/link.ts';
import { besideLink, intoNext, sayComesFrom, sayLink } from './link/link-words.ts';
import { inOrder, sayOrder } from './form/order-words.ts';
import { countOf, type PartCount } from './count-words.ts';
import { introductionOf, withIntroduction, type Introduction } from './form/introduction.ts';

/** A song as all parts of it begin: arranged, with its introduction before it. */
export interface LaidOut {
  /** Without the introduction, and without what leads on to the next song. */
  readonly song: Score;
  readonly introduction: Introduction;
  /** With it, written out before bar 1, and with the bars that lead on after the last. */
  readonly whole: Score;
  /** How long the introduction is. */
  readonly length: Ticks;
  readonly count: PartCount;
  /** How the music goes on to the next song; null: nothing is planned. */
  readonly link: Link | null;
  /** `introduction once, then verses 1 to 5; then D7, on to “Abide with me” in G`. */
  readonly order: string;
}

/** The lines beside the bars that lead on, each beside the first of them that it is for; of any other section none. */
export function besideLinkIn(
  { link, whole }: Pick<LaidOut, 'link' | 'whole'>,
  section: Section,
): string[] {
  const sections = whole.sections.filter(isLink);
  const [first, last] = [sections[0], sections.at(-1)];
  if (!link || !first || !last || !isLink(section)) return [];
  const bars = whole.bars.filter(({ at }) => at >= first.from && at < first.to);
  const isFilled = bars.length > 1 && (bars[0]?.length ?? 0) < (bars[1]?.length ?? 0);
  return [
    ...(section.id === first.id ? besideLink(link, isFilled) : []),
    ...(section.id === last.id ? intoNext(link) : []),
  ];
}

/** Whether a song has its words alone: nothing in it has a key to be read in, and nothing can be played from it. */
export const isWordsOnly = ({ untimed, chords }: Pick<Score, 'untimed' | 'chords'>): boolean =>
  untimed === true && chords.length === 0;

/** What a part of words without time says instead. */
export const noRhythm = (score: Score): Failure =>
  failure({
    code: 'no-rhythm',
    message: isWordsOnly(score)
      ? `“${score.facts.title}” has words alone, without chords and without rhythm, so there is nothing to write as notes: follow the words.`
      : `“${score.facts.title}” has words and chords but no rhythm, so it cannot be written as notes: play it from the words.`,
  });

/** The tempo that the last pass ends in. */
const tempoAtEnd = (song: Score): Tempo | null => tempoAt(song, (unfold(song).at(-1)?.to ?? 1) - 1);

/** Fails where there is nothing to write out as notes: no bars (`no-music`), or words without time (`no-rhythm`). */
export function layOut(
  score: Score,
  arrangement: Arrangement,
  says: Says = ENGLISH,
  density: Density = arrangement.density,
): Result<LaidOut> {
  const { title } = score.facts;
  if (score.bars.length === 0) {
    return failure({ code: 'no-music', message: `“${title}” has no bars to play.` });
  }
  if (score.untimed) return noRhythm(score);
  const song = arranged(score, arrangement, density);
  const introduction = introductionOf(song);
  const link = linkOf(score, { ...arrangement, tempo: tempoAtEnd(song) }, says);
  const linked = withLink(song, link, says);
  const whole = withIntroduction(linked, introduction);
  const length = endOf(whole) - endOf(linked);
  const count = countOf(song, whole, length, says);
  const order = inOrder(
    sayComesFrom(arrangement.comesFrom, says),
    sayOrder(whole),
    sayLink(link, says),
  );
  return success({ song, introduction, whole, length, count, link, order });
}
