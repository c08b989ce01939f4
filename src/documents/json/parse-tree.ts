import { type Node, type ParseError, parseTree } from 'jsonc-parser/lib/esm/main.js';
import { type Problem, pathTo, problem } from '../../model/problem.js';
import { quote } from '../../units/quote.js';
import { fail, ok } from '../../units/result.js';
import { positionsIn } from '../locate.js';
import { readNumberLiteral } from '../number-literal.js';
import { addProblem, forbiddenKeys, type ParseOutcome } from '../parsed.js';
import { explainGrammar } from './explain.js';
import { scanJson } from './scan.js';

// By its ES modules: the package's main file is UMD, which bundlers cannot follow.

/** Makes plain data of a syntax tree. What it refuses is left out and told in `problems`. */
const toValue = (root: Node, text: string, problems: Problem[]): unknown => {
  const positionOf = positionsIn(text);

  const numberOf = (node: Node, path: string): number => {
    const literal = text.slice(node.offset, node.offset + node.length);
    const read = readNumberLiteral(literal);
    if (read.ok) return read.value;
    addProblem(problems, problem(read.error.code, path, `${quote(literal)} ${read.error.message}.`));
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
        const { line } = positionOf(first);
        const message = `The key ${quote(key)} stands here again, first on line ${line}; one of them would be lost. Take one out.`;
        addProblem(problems, problem('duplicate-key', keyPath, message));
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
const offsetsOf = (root: Node): ReadonlyMap<string, number> => {
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

/**
 * Reads JSON text with a syntax tree, which has a place for everything in it; `parseJson` says what is refused. It is
 * told of every fault, so it also reads what `parseJson` has read already, where a problem found later needs its place.
 */
export const parseJsonTree = (text: string, deepest: number): ParseOutcome => {
  const fault = scanJson(text, deepest);
  if (fault) return fail(fault);
  const errors: ParseError[] = [];
  const root = parseTree(text, errors, { disallowComments: true, allowTrailingComma: false });
  const [first] = errors;
  if (first) return fail(explainGrammar(text, first));
  if (!root) return fail({ code: 'json-syntax', message: 'there is no data here', offset: 0 });

  const problems: Problem[] = [];
  const value = toValue(root, text, problems);
  let offsets: ReadonlyMap<string, number> | undefined;
  return ok({
    value,
    problems,
    offsetOf: (path) => {
      offsets ??= offsetsOf(root);
      return offsets.get(path);
    },
  });
};
