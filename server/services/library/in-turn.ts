import type { Book } from './book.ts';

const last = new WeakMap<Book, Promise<unknown>>();

/** Work on a book that must see what the work before it has done: each begins when the one before has ended, well or not. */
export function inTurn<T>(book: Book, work: () => Promise<T>): Promise<T> {
  const own = (last.get(book) ?? Promise.resolve()).then(work, work);
  last.set(book, own);
  return own;
}
