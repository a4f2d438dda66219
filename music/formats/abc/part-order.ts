import type { Pass, Section, Verse } from '../../score/score.ts';

/** Parts that an order comes to at most; more is damage. */
const MOST_PARTS = 500;
const DEEPEST = 20;

/**
 * The letters of `P:` in a tune's head in the order of playing (ABC 2.1, section 3.1.9): `A2(BC)2` is A A B C B C; dots and spaces only
 * divide. Null: it is no such order.
 */
export function readOrder(text: string): string[] | null {
  const value = text.replace(/[.\s]/g, '');
  let at = 0;
  const take = (depth: number): string[] | null => {
    const parts: string[] = [];
    while (at < value.length && value.charAt(at) !== ')') {
      let group: string[] | null = [value.charAt(at)];
      if (value.charAt(at) === '(') {
        at += 1;
        group = depth < DEEPEST ? take(depth + 1) : null;
        if (group === null || value.charAt(at) !== ')') return null;
      } else if (!/[A-Za-z]/.test(value.charAt(at))) return null;
      at += 1;
      const count = /^\d{1,2}/.exec(value.slice(at))?.[0] ?? '';
      at += count.length;
      const times = count === '' ? 1 : Number(count);
      if (group.length * times + parts.length > MOST_PARTS) return null;
      for (let time = 0; time < times; time += 1) parts.push(...group);
    }
    return parts;
  };
  const order = take(0);
  return order && order.length > 0 && at === value.length ? order : null;
}

/**
 * The form that an order makes: where a part comes as often as there are verses, its n-th time has the n-th verse, else the
 * whole order is played for each verse. Null: the order names a part that the song has not.
 */
export function formOf(
  order: readonly string[],
  sections: readonly Section[],
  verses: readonly Verse[],
): Pass[] | null {
  const counts = new Map<string, number>();
  const passes: { section: string; time: number }[] = [];
  for (const name of order) {
    const section = sections.find((each) => each.name === name);
    if (!section) return null;
    const time = counts.get(name) ?? 0;
    counts.set(name, time + 1);
    passes.push({ section: section.id, time });
  }
  if (verses.length === 0) return passes.map(({ section }) => ({ section, verse: null }));
  const isThrough = Math.max(...counts.values()) === verses.length;
  if (isThrough) {
    return passes.map(({ section, time }) => ({ section, verse: verses[time]?.number ?? null }));
  }
  return verses.flatMap(({ number }) => passes.map(({ section }) => ({ section, verse: number })));
}
