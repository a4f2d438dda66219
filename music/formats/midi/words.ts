import type { Syllable, Ticks } from '../../score/score.ts';
import type { SmfText } from './smf-track.ts';

/** A syllable with its moment in ticks of the file. */
export interface SungText extends Syllable {
  readonly at: number;
}

/** `{@LATIN}` and the like: which characters a text is written in, not a text (RP-026). */
const TAG = /\{[@#][^}]*\}/g;
// eslint-disable-next-line no-control-regex -- the ends of lines and paragraphs of RP-017 are control characters
const CONTROL = /[\u0000-\u001f\u007f]/g;

/**
 * The lyric events of a track as syllables. A space at the end of an event, or at the beginning of the next, ends a word; an
 * event without one goes on in the next (RP-017). Files that never end a word by a space show by hyphens where one goes on.
 */
export function syllablesOf(texts: readonly SmfText[]): SungText[] {
  const events = texts
    .filter(({ kind }) => kind === 'lyric')
    .map(({ at, text }) => ({ at, text: text.replace(TAG, '').replace(/[\r\n]+$/, ' ') }))
    .map(({ at, text }) => ({ at, text: text.replace(CONTROL, ' ') }));
  const spaced = events.slice(0, -1).some(({ text }, i) => {
    return /\s$/.test(text) || /^\s/.test(events[i + 1]?.text ?? '');
  });
  const sung: SungText[] = [];
  events.forEach(({ at, text }, i) => {
    const plain = text.trim();
    const next = events[i + 1]?.text ?? ' ';
    const hyphen = /-\s*$/.test(text) && plain !== '-';
    const open = spaced && !/\s$/.test(text) && !/^\s/.test(next);
    const shown = hyphen ? plain.replace(/-+$/, '') : plain;
    if (shown === '') {
      // A hyphen or space that stands alone belongs to the syllable before it.
      const last = sung.at(-1);
      if (last && plain === '-') sung[sung.length - 1] = { ...last, hyphen: true };
      else if (last?.hyphen && /\s/.test(text))
        sung[sung.length - 1] = { at: last.at, text: last.text };
      return;
    }
    sung.push({ at, text: shown, ...((hyphen || open) && { hyphen: true as const }) });
  });
  return sung;
}

/**
 * Which note each syllable belongs to: the one that begins at its moment; where fewer than half of the syllables have such a
 * note, the nearest that no other syllable has, up to `furthest` away. The keys are moments of notes; `lost` are the syllables that found none.
 */
export function onNotes(
  sung: readonly { readonly at: Ticks; readonly syllable: Syllable }[],
  starts: readonly Ticks[],
  furthest: Ticks,
): { at: ReadonlyMap<Ticks, Syllable>; lost: readonly Syllable[] } {
  const at = new Map<Ticks, Syllable>();
  const lost: Syllable[] = [];
  const known = new Set(starts);
  const exact = sung.filter((each) => known.has(each.at)).length;
  const reach = exact * 2 >= sung.length ? 0 : furthest;
  let from = 0;
  for (const { at: moment, syllable } of sung) {
    while (from < starts.length && (starts[from] ?? 0) < moment - reach) from += 1;
    let best: Ticks | null = null;
    for (let i = from; i < starts.length && (starts[i] ?? 0) <= moment + reach; i += 1) {
      const start = starts[i] ?? 0;
      if (at.has(start)) continue;
      if (best === null || Math.abs(start - moment) < Math.abs(best - moment)) best = start;
    }
    if (best === null) lost.push(syllable);
    else at.set(best, syllable);
  }
  return { at, lost };
}
