import type { Problem } from '../../model/problem.js';
import { fail, ok } from '../../units/result.js';
import { deepestNesting } from '../limits.js';
import type { ParseOutcome } from '../parsed.js';
import { type ParseError, parseTree } from './jsonc.js';
import { scanJson } from './scan.js';
import { tellGrammar } from './tell-grammar.js';
import { offsetsOf, toValue } from './to-value.js';

/**
 * Reads JSON text (RFC 8259) strictly: no comments, no trailing commas, no key twice, no number that a
 * double does not hold, nothing nested deeper than `deepest`.
 */
export const parseJson = (text: string, deepest: number = deepestNesting): ParseOutcome => {
  const fault = scanJson(text, deepest);
  if (fault) return fail(fault);
  const errors: ParseError[] = [];
  const root = parseTree(text, errors, { disallowComments: true, allowTrailingComma: false });
  const [first] = errors;
  if (first) return fail(tellGrammar(text, first));
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
