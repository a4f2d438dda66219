/** Works once for each key; of thousands of songs few differ in what a filter asks. */
export function onceEach<In, Out>(
  work: (value: In) => Out,
  keyOf: (value: In) => unknown = (value) => value,
): (value: In) => Out {
  const known = new Map<unknown, { readonly out: Out }>();
  return (value) => {
    const key = keyOf(value);
    const there = known.get(key);
    if (there) return there.out;
    const out = work(value);
    known.set(key, { out });
    return out;
  };
}
