const NUMBERS = [
  'no',
  'one',
  'two',
  'three',
  'four',
  'five',
  'six',
  'seven',
  'eight',
  'nine',
  'ten',
  'eleven',
  'twelve',
];

/** `four shapes`, `one shape`, `no shapes`; from thirteen on in figures. */
export function counted(count: number, one: string, many: string): string {
  return `${NUMBERS[count] ?? count} ${count === 1 ? one : many}`;
}

/** `3, 7 and 11`. */
export function listed(words: readonly string[]): string {
  if (words.length < 2) return words.join('');
  return `${words.slice(0, -1).join(', ')} and ${words.at(-1) ?? ''}`;
}
