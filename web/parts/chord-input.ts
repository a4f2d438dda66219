/** What a key is pressed in. */
export interface TypedIn {
  readonly value: string;
  readonly selectionStart: number | null;
  readonly selectionEnd: number | null;
}

/** Puts the keys in the field: after the letter that was begun with, else over all that stands there. */
export function takeUp(field: HTMLInputElement, begun: string): void {
  field.focus({ preventScroll: true });
  field.setSelectionRange(begun.length, field.value.length);
  field.form?.scrollIntoView({ block: 'nearest' });
}

/**
 * Where a key leads from the field of a chord: Tab to the next place, with Shift to the one before, and so the arrows at
 * either end of what is typed; null: it stays in the field.
 */
export function stepOf(
  { key, shiftKey }: { readonly key: string; readonly shiftKey: boolean },
  { value, selectionStart, selectionEnd }: TypedIn,
): -1 | 1 | null {
  if (key === 'Tab') return shiftKey ? -1 : 1;
  if (shiftKey || selectionStart !== selectionEnd) return null;
  if (key === 'ArrowLeft' && selectionStart === 0) return -1;
  if (key === 'ArrowRight' && selectionEnd === value.length) return 1;
  return null;
}
