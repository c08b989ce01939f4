import fc from 'fast-check';

/** Values that are wrong in most places, and right in some. */
const strange = fc.constantFrom<unknown>(
  ...[null, true, 0, 1, -1, 2.5, 1e9, '', 'a', 'A b', 'fm-stereo', 'linear', '19k', [], {}, [1, 1], { a: 1 }],
);

/** Every place in a document, as the keys that lead there. */
const places = (value: unknown, way: readonly string[] = []): readonly (readonly string[])[] =>
  typeof value === 'object' && value !== null
    ? [way, ...Object.entries(value).flatMap(([key, inner]) => places(inner, [...way, key]))]
    : [way];

/** A copy of a document in which one place is another value, or is gone, or has a key more. */
const changed = (document: unknown, way: readonly string[], value: unknown, how: number): unknown => {
  const [key, ...rest] = way;
  if (key === undefined) {
    const canGrow = typeof document === 'object' && document !== null && !Array.isArray(document);
    return how === 1 && canGrow ? { ...document, extra: value } : value;
  }
  const copy = (Array.isArray(document) ? [...document] : { ...(document as object) }) as Record<
    string,
    unknown
  >;
  if (rest.length === 0 && how === 2 && !Array.isArray(document)) delete copy[key];
  else copy[key] = changed(copy[key], rest, value, how);
  return copy;
};

/** Documents of a kind with one place spoilt. */
export const spoiltPlain = (document: fc.Arbitrary<unknown>): fc.Arbitrary<unknown> =>
  fc.tuple(document, fc.noBias(fc.nat(1e6)), strange, fc.nat(2)).map(([whole, pick, value, how]) => {
    const all = places(whole);
    return changed(whole, all[pick % all.length] ?? [], value, how);
  });
