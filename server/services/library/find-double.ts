import type { DoubleAnswer, DoubleQuestion } from '../../contract/library.ts';
import type { TeamStore } from '../../store/store.ts';
import type { Book } from './book.ts';
import { Doubles } from './doubles.ts';

/** The song of the book that one is like that is not in it yet, by the rule by which imports leave songs out. */
export async function findDouble(
  store: TeamStore,
  book: Book,
  { title, firstLine, lines, steps }: DoubleQuestion,
): Promise<DoubleAnswer> {
  await book.update(store);
  const double = new Doubles(book).find({ title, firstLine, lines, sign: { steps } });
  const key = double && book.songs.get(double.id)?.entry.key;
  return { double: double && key ? { ...double, key } : null };
}
