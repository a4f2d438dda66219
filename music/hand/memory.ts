/**
 * What was worked out before, so that it need not be again: a screen that tries twelve keys meets
 * the same chords and moves over and over. Answers depend on the key alone, so that forgetting
 * never changes one. When it is full it starts anew.
 */
export interface Memory<K, V> {
  recall(key: K, workOut: (key: K) => V): V;
}

export function memory<K, V extends object>(limit: number): Memory<K, V> {
  const known = new Map<K, V>();
  return {
    recall(key, workOut) {
      const found = known.get(key);
      if (found) return found;
      if (known.size >= limit) known.clear();
      const value = workOut(key);
      known.set(key, value);
      return value;
    },
  };
}
