import { readdir } from 'node:fs/promises';
import { join } from 'node:path';
import { readTarget } from '../documents/read.js';
import type { Desk } from '../model/desk.js';
import { makeDesk } from '../model/make-desk.js';
import { type Outcome, problem } from '../model/problem.js';
import type { Target } from '../model/target.js';
import { quote } from '../units/quote.js';
import { fail } from '../units/result.js';
import { closest } from '../units/suggest.js';
import { loadQuantiserKinds } from './load-quantiser.js';
import { packageRoot } from './package.js';
import { readInput } from './read-input.js';

const folder = (): string => join(packageRoot(), 'targets');

const targetFile = /^(?<id>[a-z][a-z0-9-]*)\.(json|xml)$/;

/** The ids of the shipped targets, in alphabetical order, with their files. */
export const shippedTargets = async (): Promise<
  readonly { readonly id: string; readonly path: string }[]
> => {
  const names = await readdir(folder());
  return names.sort().flatMap((name) => {
    const id = targetFile.exec(name)?.groups?.id;
    return id ? [{ id, path: join(folder(), name) }] : [];
  });
};

const looksLikePath = (text: string): boolean => text === '-' || /[\\/.]/.test(text);

/** The file a target is read from: a path as it is, `-` for standard input, else the id of a shipped one. */
export const targetPath = async (target: string): Promise<Outcome<string>> => {
  if (looksLikePath(target)) return { ok: true, value: target };
  const shipped = await shippedTargets();
  const found = shipped.find(({ id }) => id === target);
  if (found) return { ok: true, value: found.path };
  const ids = shipped.map(({ id }) => id);
  const guess = closest(target, ids);
  const hint = guess === undefined ? '' : ` Did you mean ${guess}?`;
  return fail([
    problem(
      'target-unknown',
      'target',
      `No shipped target is called ${quote(target)}.${hint} There are: ${ids.join(', ')}. For a file of your own give its path, as in ./my-desk.json.`,
    ),
  ]);
};

/** Reads a target by its id or path. Problems name the file and the place in it. */
export const loadTarget = async (target: string): Promise<Outcome<Target>> => {
  const path = await targetPath(target);
  if (!path.ok) return path;
  const input = await readInput(path.value);
  if (!input.ok) return input;
  const shipped = path.value !== target;
  return readTarget(input.value.bytes, { source: shipped ? `target ${target}` : input.value.source });
};

/**
 * Loads a target by its id or path and makes its grids, with kinds of grid from the user's own modules among them.
 * Problems: as `loadTarget`; a module that cannot be used; a grid that makes no sense.
 */
export const loadDesk = async (
  target: string,
  quantiserModules: readonly string[],
): Promise<Outcome<Desk>> => {
  const kinds = await loadQuantiserKinds(quantiserModules);
  if (!kinds.ok) return kinds;
  const loaded = await loadTarget(target);
  if (!loaded.ok) return loaded;
  const desk = makeDesk(loaded.value, kinds.value);
  return desk.ok ? desk : fail(desk.error.map((each) => ({ ...each, source: `target ${target}` })));
};
