import { Refusal } from './refusal.ts';

/**
 * What was sent fits its schema and still cannot be.
 * @param field path of the input: `items.2.song`
 * @param message a sentence for a person
 */
export function invalidInput(field: string, message: string, code = 'invalid-field'): Refusal {
  const problems = [{ code, field, message }];
  return new Refusal('invalid-input', `${message} Nothing was changed.`, { problems });
}
