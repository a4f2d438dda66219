/** What nobody sees: control characters, and halves of characters (line ends are looked after before). */
const UNSEEN = /[\p{Cc}\p{Cs}]/gu;

/** A line as somebody typed it, without what nobody sees and without spaces round it. */
export function tidied(text: string): string {
  return text
    .replace(/[\n\r\t]+/g, ' ')
    .replace(UNSEEN, '')
    .trim();
}

/** Text of several lines, tidied line by line. */
export function tidiedLines(text: string): string {
  return text
    .split(/\r\n|\n|\r/)
    .map(tidied)
    .join('\n')
    .trim();
}
