import { type Problem, pathTo, problem } from '../../model/problem.js';
import { quote } from '../../units/quote.js';
import { note } from '../limits.js';
import { readNumberLiteral } from '../number-literal.js';
import { forbiddenKeys } from '../parsed.js';
import { placesIn } from '../place.js';
import type { Node } from './jsonc.js';

/** Makes plain data of a syntax tree. What it refuses is left out and told in `problems`. */
export const toValue = (root: Node, text: string, problems: Problem[]): unknown => {
  const places = placesIn(text);

  const numberOf = (node: Node, path: string): number => {
    const literal = text.slice(node.offset, node.offset + node.length);
    const read = readNumberLiteral(literal);
    if (read.ok) return read.value;
    note(problems, problem(read.error.code, path, `${quote(literal)} ${read.error.message}.`));
    return Number.isFinite(Number(literal)) ? Number(literal) : 0;
  };

  const objectOf = (node: Node, path: string): Readonly<Record<string, unknown>> => {
    const object: Record<string, unknown> = {};
    const firstOffsets = new Map<string, number>();
    for (const { children: [name, value] = [] } of node.children ?? []) {
      if (!name || !value) continue;
      const key = String(name.value);
      const keyPath = pathTo(path, key);
      const first = firstOffsets.get(key);
      if (first !== undefined) {
        const { line } = places(first);
        const message = `The key ${quote(key)} stands here again, first on line ${line}; one of them would be lost. Take one out.`;
        note(problems, problem('duplicate-key', keyPath, message));
      } else if (forbiddenKeys.includes(key)) {
        problems.push(
          problem('unknown-key', keyPath, `The key ${quote(key)} is never allowed; take it out.`),
        );
      } else {
        object[key] = dataOf(value, keyPath);
      }
      firstOffsets.set(key, first ?? name.offset);
    }
    return object;
  };

  const dataOf = (node: Node, path: string): unknown => {
    if (node.type === 'object') return objectOf(node, path);
    if (node.type === 'array') {
      return (node.children ?? []).map((child, index) => dataOf(child, pathTo(path, index)));
    }
    return node.type === 'number' ? numberOf(node, path) : node.value;
  };

  return dataOf(root, '');
};

/** Where the thing at each path stands: a key, or an item of a list. The last of two keys that are the same. */
export const offsetsOf = (root: Node): ReadonlyMap<string, number> => {
  const offsets = new Map<string, number>([['', root.offset]]);
  const visit = (node: Node, path: string): void => {
    for (const [index, child] of (node.children ?? []).entries()) {
      const [name, value] = child.children ?? [];
      const isProperty = child.type === 'property';
      const childPath = isProperty ? pathTo(path, String(name?.value)) : pathTo(path, index);
      offsets.set(childPath, child.offset);
      const inner = isProperty ? value : child;
      if (inner) visit(inner, childPath);
    }
  };
  visit(root, '');
  return offsets;
};
