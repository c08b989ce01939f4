/** Something that is called as something before it. */
export interface Repeated {
  readonly name: string;
  readonly index: number;
  readonly firstIndex: number;
}

/** Every name of a list that stood in it before. */
export const repeated = (names: readonly string[]): readonly Repeated[] =>
  names.flatMap((name, index) => {
    const firstIndex = names.indexOf(name);
    return firstIndex < index ? [{ name, index, firstIndex }] : [];
  });
