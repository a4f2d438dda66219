import { Ranges } from '#music';
import type { VoiceRange } from '../contract/members.ts';
import type { Refusal } from './refusal.ts';
import { invalidInput } from './invalid-input.ts';

export function badRange(field: string, message: string): Refusal {
  return invalidInput(field, message, 'bad-range');
}

/** A range is a range: two notes of the piano, the lowest not above the highest. null: not known. */
export function requireRange(field: string, range: VoiceRange | null): void {
  if (!range) return;
  const read = Ranges.read(range.low, range.high);
  if (!read.ok) throw badRange(field, read.problems[0]?.message ?? 'That is not a range.');
}
