import { type Problem, problem } from '../../model/problem.js';

/**
 * What no schema can say of a document. Its problems carry its name as their code. Rules see only documents
 * that fit their schema.
 */
export interface Rule<Document> {
  readonly name: string;
  check(document: Document): readonly Problem[];
}

/** What breaks a rule: the place, and what is said of it. */
export type Breach = readonly [path: string, message: string];

/** A rule by its name and whatever breaks it in a document. */
export const rule = <Document>(
  name: string,
  breaches: (document: Document) => readonly Breach[],
): Rule<Document> => ({
  name,
  check: (document) => breaches(document).map(([path, message]) => problem(name, path, message)),
});

/** What each item of a list breaks, if anything. */
export const brokenBy = <Item>(
  items: readonly Item[],
  breach: (item: Item, index: number) => Breach | null,
): readonly Breach[] => items.map(breach).filter((each) => each !== null);

/** Something that is called as something before it. */
export interface Repeated {
  readonly name: string;
  readonly index: number;
  readonly firstIndex: number;
}

/** Every name of a list that stood in it before. */
export const repeated = (names: readonly string[]): readonly Repeated[] => {
  const firsts = new Map<string, number>();
  return names.flatMap((name, index) => {
    const firstIndex = firsts.get(name);
    if (firstIndex !== undefined) return { name, index, firstIndex };
    firsts.set(name, index);
    return [];
  });
};
