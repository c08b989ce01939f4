import type { Desk } from '../../model/desk.js';
import { makeDesk } from '../../model/make-desk.js';
import type { Outcome } from '../../model/problem.js';
import { loadQuantiserKinds } from '../../node/load-quantiser.js';
import { loadTarget } from '../../node/targets.js';
import { fail } from '../../units/result.js';

/** Loads a target and makes its grids, with the user's own kinds among them. */
export const loadDesk = async (target: string, quantiserFiles: readonly string[]): Promise<Outcome<Desk>> => {
  const kinds = await loadQuantiserKinds(quantiserFiles);
  if (!kinds.ok) return kinds;
  const loaded = await loadTarget(target);
  if (!loaded.ok) return loaded;
  const desk = makeDesk(loaded.value, kinds.value);
  return desk.ok ? desk : fail(desk.error.map((each) => ({ ...each, source: `target ${target}` })));
};
