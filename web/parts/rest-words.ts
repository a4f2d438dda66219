const NUMBERS = 'no one two three four five six seven eight nine ten eleven twelve'.split(' ');
const DAY = 86_400_000;

const many = (count: number, one: string): string =>
  `${NUMBERS[count] ?? count} ${one}${count === 1 ? '' : 's'}`;

/**
 * How long a song has rested, as an index says it: `rested nine weeks`. Past two years it is counted in years.
 * @param lastSung day of the service, `2026-03-01`; null: never
 * @param today the same way
 */
export function restWords(lastSung: string | null, today: string): string {
  if (lastSung === null) return 'never sung here';
  const weeks = Math.floor((Date.parse(today) - Date.parse(lastSung)) / (7 * DAY));
  if (weeks < 1) return 'sung this week';
  if (weeks < 104) return `rested ${many(weeks, 'week')}`;
  return `rested ${many(Math.floor(weeks / 52), 'year')}`;
}
