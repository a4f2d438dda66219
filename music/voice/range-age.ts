/**
 * After how many months a range is worth finding again. The numbers are ours: a grown voice changes with years, health
 * and season, a child's within months (common practice).
 */
export const OLD_AFTER_MONTHS = { adult: 12, child: 6 } as const;

/** Whole months from one day to another (`2026-03-01`); the last one counts once its day is reached. */
export function monthsBetween(from: string, to: string): number {
  const [a, b] = [from, to].map((day) => day.split('-').map(Number)) as [number[], number[]];
  const months = ((b[0] ?? 0) - (a[0] ?? 0)) * 12 + (b[1] ?? 0) - (a[1] ?? 0);
  return months - ((b[2] ?? 0) < (a[2] ?? 0) ? 1 : 0);
}

/** Whether a range that was marked on a day is worth finding again. */
export function isOld(markedOn: string, today: string, child: boolean): boolean {
  return monthsBetween(markedOn, today) >= OLD_AFTER_MONTHS[child ? 'child' : 'adult'];
}

/** Why it is asked, with whose number it is. */
export function why(child: boolean): string {
  return child
    ? 'A child’s voice changes within months; after six (our number) it is worth asking again.'
    : 'Voices change; after a year (our number) it is worth asking again.';
}
