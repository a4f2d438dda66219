const WORDS = [
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
] as const;

/** `no`, `seven`, `13`: words up to twelve. */
export function numberWord(number: number): string {
  return WORDS[number] ?? String(number);
}

/** `four shapes`, `one shape`, `no shapes`, `13 shapes`. */
export function counted(count: number, one: string, many: string): string {
  return `${numberWord(count)} ${count === 1 ? one : many}`;
}

/** `once`, `twice`, `three times`. */
export function sayTimes(count: number): string {
  return count === 1 ? 'once' : count === 2 ? 'twice' : `${numberWord(count)} times`;
}

/** `3, 7 and 11`. */
export function listed(words: readonly string[], last: 'and' | 'or' = 'and'): string {
  if (words.length < 2) return words.join('');
  return `${words.slice(0, -1).join(', ')} ${last} ${words.at(-1) ?? ''}`;
}
