import { success, type Result } from '../result.ts';
import type { Says } from '../pitch/says.ts';
import { arranged } from '../parts/arranged.ts';
import type { Arrangement } from '../parts/arrangement.ts';
import { sayBars } from '../parts/form/introduction.ts';
import { layOut } from '../parts/laid-out.ts';
import { LINK, linkOf, type Link } from '../parts/link/link.ts';
import { sayComesFrom, sayLink } from '../parts/link/link-words.ts';
import { inOrder, sayOrder } from '../parts/form/order-words.ts';
import { overRoots } from '../parts/played-chords.ts';
import type { Score, Span } from '../score/score.ts';

/** A song laid out for reading: timed with its introduction before it, untimed as it is. */
export interface Laid {
  readonly score: Score;
  readonly countIn: string;
  /** What the introduction takes, in bars of the song; null: none. */
  readonly introduction: string | null;
  readonly order: string;
  readonly link: Link | null;
}

/** Fails where `layOut` does. */
export function layFor(score: Score, arrangement: Arrangement, says: Says): Result<Laid> {
  if (score.untimed) {
    const song = arranged(score, arrangement);
    const link = linkOf(score, arrangement, says);
    const order = inOrder(
      sayComesFrom(arrangement.comesFrom, says),
      sayOrder(song),
      sayLink(link, says),
    );
    return success({ score: song, countIn: '', introduction: null, order, link });
  }
  const found = layOut(score, arrangement, says);
  if (!found.ok) return found;
  const { song, introduction, whole, count, order, link } = found.value;
  const { spans } = introduction;
  const loop = whole.sections.find(({ id }) => id === LINK.loop);
  return success({
    // It says “over and over” beside them, so they stand once.
    score: { ...whole, bars: withoutRepeats(whole.bars, loop), chords: overRoots(whole) },
    order,
    link,
    countIn: count.words,
    introduction:
      spans.length > 0 ? spans.map((span) => sayBars(song, span)).join(', then ') : null,
  });
}

function withoutRepeats(bars: Score['bars'], span: Span | undefined): Score['bars'] {
  return bars.map((bar) =>
    span && bar.at >= span.from && bar.at < span.to
      ? { ...bar, repeatStart: false, repeatEnd: false }
      : bar,
  );
}
