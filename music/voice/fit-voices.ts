import { DEFAULT_GUIDELINE, voice } from './congregation.ts';
import type { Range, Singer } from './range.ts';

/** Someone who sings; `comfortable` null: their range is not known yet. */
export interface Voice {
  readonly id: string;
  readonly name: string;
  readonly comfortable: Range | null;
  readonly limit: Range | null;
}

/**
 * Whose voices a key must fit: those of the singers whose range is known, and after them the room.
 * @param congregation id of a guideline, or a range; null: the room does not count
 */
export function voicesOf(
  singers: readonly Voice[],
  congregation: string | Range | null = DEFAULT_GUIDELINE,
): Singer[] {
  const known = singers.flatMap(({ id, name, comfortable, limit }): Singer[] =>
    comfortable ? [{ id, name, comfortable, limit }] : [],
  );
  return congregation === null ? known : [...known, voice(congregation)];
}

/** Who leads among the voices: the one named where their range is known, else the first; null where there is none. */
export function leadOf(voices: readonly Singer[], named: string | null): string | null {
  return (voices.find(({ id }) => id === named) ?? voices[0])?.id ?? null;
}
