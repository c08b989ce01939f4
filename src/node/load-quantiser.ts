import { access } from 'node:fs/promises';
import { resolve } from 'node:path';
import { pathToFileURL } from 'node:url';
import { type Outcome, type Problem, problem } from '../model/problem.js';
import type { QuantiserKind } from '../quantisers/quantiser.js';
import { quantiserKinds } from '../quantisers/registry.js';
import { printable } from '../units/quote.js';
import { fail, ok } from '../units/result.js';
import { fileProblem } from './file-problem.js';

const shape = 'a default export { kind, summary, create(spec) }';

const isKind = (value: unknown): value is QuantiserKind => {
  const kind = value as Partial<QuantiserKind> | null | undefined;
  return (
    typeof kind?.kind === 'string' &&
    /^[a-z][a-z0-9-]*$/.test(kind.kind) &&
    typeof kind.summary === 'string' &&
    typeof kind.create === 'function'
  );
};

const refused = (path: string, message: string): Problem => ({
  ...problem('quantiser-module', 'quantiser', message),
  source: printable(path),
});

/**
 * Loads a user's own kind of grid from a module named on the command line. It runs with the user's rights,
 * which is why a descriptor can never name one.
 */
const loadKind = async (path: string): Promise<Outcome<QuantiserKind>> => {
  let loaded: { default?: unknown };
  try {
    await access(resolve(path));
  } catch (error) {
    return fail([fileProblem('quantiser-module', path, 'load', error)]);
  }
  try {
    loaded = (await import(pathToFileURL(resolve(path)).href)) as { default?: unknown };
  } catch (error) {
    const reason = error instanceof Error ? printable(error.message.split('\n')[0] ?? '') : 'no reason given';
    return fail([
      refused(path, `Cannot load ${printable(path)}: ${reason}. It must be a module with ${shape}.`),
    ]);
  }
  if (!isKind(loaded.default)) {
    return fail([refused(path, `${printable(path)} is no kind of grid: it must have ${shape}.`)]);
  }
  const { kind } = loaded.default;
  if (quantiserKinds.some((own) => own.kind === kind)) {
    return fail([
      refused(path, `${printable(path)} calls its kind "${kind}", which this tool has already. Rename it.`),
    ]);
  }
  return ok(loaded.default);
};

/** The tool's own kinds of grid and those of the modules named. */
export const loadQuantiserKinds = async (
  paths: readonly string[],
): Promise<Outcome<readonly QuantiserKind[]>> => {
  const kinds: QuantiserKind[] = [...quantiserKinds];
  for (const path of paths) {
    const loaded = await loadKind(path);
    if (!loaded.ok) return loaded;
    const { kind } = loaded.value;
    if (kinds.some((known) => known.kind === kind)) {
      return fail([
        refused(path, `${printable(path)} calls its kind "${kind}", as another module does. Rename one.`),
      ]);
    }
    kinds.push(loaded.value);
  }
  return ok(kinds);
};
