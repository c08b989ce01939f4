import { readdirSync, readFileSync } from 'node:fs';
import { dirname, join, posix, sep } from 'node:path';
import { parseSync } from 'oxc-parser';

/** One source file: the modules it names, those of them that are files of ours, and what it declares for others. */
export interface SourceFile {
  readonly name: string;
  readonly lines: number;
  /** As written: by static import, type-only import, re-export or dynamic import. */
  readonly modules: readonly string[];
  /** By name in the tree. */
  readonly imports: readonly string[];
  /** Values and types alike; not what it only passes on. */
  readonly exports: readonly string[];
}

/** Source files by their name, a path with slashes from the root of the tree. */
export type SourceTree = ReadonlyMap<string, SourceFile>;

const namesIn = (root: string): readonly string[] =>
  readdirSync(root, { recursive: true, encoding: 'utf8' })
    .filter((name) => name.endsWith('.ts') && !name.endsWith('.d.ts'))
    .map((name) => name.split(sep).join('/'))
    .sort();

const readFile = (root: string, name: string, names: ReadonlySet<string>): SourceFile => {
  const text = readFileSync(join(root, name), 'utf8');
  const { module, errors } = parseSync(name, text);
  if (errors.length > 0) throw new Error(`${name} cannot be parsed: ${errors[0]?.message}`);
  const exported = module.staticExports.flatMap(({ entries }) => entries);
  const modules = [
    ...module.staticImports.map(({ moduleRequest }) => moduleRequest.value),
    ...exported.flatMap(({ moduleRequest }) => (moduleRequest ? [moduleRequest.value] : [])),
    ...module.dynamicImports.map(({ moduleRequest }) =>
      text.slice(moduleRequest.start, moduleRequest.end).replace(/^['"`]|['"`]$/g, ''),
    ),
  ];
  const ours = modules
    .filter((each) => each.startsWith('.'))
    .map((each) => posix.join(dirname(name), each).replace(/\.js$/, '.ts'))
    .filter((each) => names.has(each));
  const imported = new Set(
    module.staticImports.flatMap(({ entries }) => entries.map(({ localName }) => localName.value)),
  );
  const declared = exported
    .filter(({ moduleRequest, localName }) => !moduleRequest && !imported.has(localName.name ?? ''))
    .flatMap(({ exportName }) => (exportName.name === null ? [] : [exportName.name]));
  return {
    name,
    lines: text.split('\n').length,
    modules: [...new Set(modules)],
    imports: [...new Set(ours)],
    exports: [...new Set(declared)],
  };
};

/** Reads every TypeScript file below a folder with a real parser. */
export const readTree = (root: string): SourceTree => {
  const names = namesIn(root);
  const known = new Set(names);
  return new Map(names.map((name) => [name, readFile(root, name, known)]));
};

/** Everything a file imports, and what that imports, and so on; the file itself only where it comes back to itself. */
const reachedFrom = (tree: SourceTree, starts: readonly string[]): ReadonlySet<string> => {
  const reached = new Set<string>();
  const open = [...starts];
  for (let name = open.pop(); name !== undefined; name = open.pop()) {
    for (const next of tree.get(name)?.imports ?? []) {
      if (!reached.has(next)) open.push(next);
      reached.add(next);
    }
  }
  return reached;
};

/** The shortest way by imports from a file back to itself. */
const wayBack = (tree: SourceTree, start: string): readonly string[] => {
  const ways: (readonly string[])[] = [[start]];
  const seen = new Set<string>();
  for (let way = ways.shift(); way; way = ways.shift()) {
    for (const next of tree.get(way.at(-1) ?? '')?.imports ?? []) {
      if (next === start) return [...way, start];
      if (!seen.has(next)) ways.push([...way, next]);
      seen.add(next);
    }
  }
  return [];
};

/** Circles of imports, types included: `a.ts > b.ts > a.ts`; one for each set of files that all reach each other. */
export const circles = (tree: SourceTree): readonly string[] => {
  const told = new Set<string>();
  return [...tree.keys()].flatMap((name) => {
    const reached = reachedFrom(tree, [name]);
    if (told.has(name) || !reached.has(name)) return [];
    for (const other of reached) if (reachedFrom(tree, [other]).has(name)) told.add(other);
    return [wayBack(tree, name).join(' > ')];
  });
};

/** Files that none of the starts leads to; starts that are not there are told as well. */
export const unreached = (tree: SourceTree, starts: readonly string[]): readonly string[] => {
  const reached = reachedFrom(tree, starts);
  return [
    ...starts.filter((start) => !tree.has(start)).map((start) => `${start} is not there`),
    ...[...tree.keys()].filter((name) => !reached.has(name) && !starts.includes(name)),
  ];
};

/** Names that more than one file declares for others: `Cell: a.ts, b.ts`. */
export const namesTwice = (tree: SourceTree): readonly string[] => {
  const files = new Map<string, string[]>();
  for (const { name, exports } of tree.values()) {
    for (const each of exports) files.set(each, [...(files.get(each) ?? []), name]);
  }
  return [...files]
    .filter(([, names]) => names.length > 1)
    .map(([each, names]) => `${each}: ${names.join(', ')}`);
};

/** The folder a file lies in, right below the root; a file at the root is its own. */
export const roomOf = (name: string): string => name.split('/')[0] ?? '';

/** Files that import from a room they may not. A file at the root may import from all; a room that is not listed from none. */
export const upwardImports = (
  tree: SourceTree,
  mayImport: Readonly<Record<string, readonly string[]>>,
): readonly string[] =>
  [...tree.values()]
    .filter(({ name }) => name.includes('/'))
    .flatMap(({ name, imports }) =>
      imports
        .filter((each) => roomOf(each) !== roomOf(name) && !mayImport[roomOf(name)]?.includes(roomOf(each)))
        .map((each) => `${name} imports ${each}`),
    );

/** Files outside one room that name a module of Node: `a.ts imports node:fs`. */
export const nodeImportsOutside = (tree: SourceTree, room: string): readonly string[] =>
  [...tree.values()]
    .filter(({ name }) => roomOf(name) !== room)
    .flatMap(({ name, modules }) =>
      modules.filter((each) => each.startsWith('node:')).map((each) => `${name} imports ${each}`),
    );

/** Files of more lines than allowed: `a.ts: 251 lines`. */
export const tooLong = (tree: SourceTree, most: number): readonly string[] =>
  [...tree.values()].filter(({ lines }) => lines > most).map(({ name, lines }) => `${name}: ${lines} lines`);
