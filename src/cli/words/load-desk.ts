import type { Desk } from '../../model/desk.js';
import { makeDesk } from '../../model/make-desk.js';
import type { Outcome } from '../../model/problem.js';
import { loadQuantiserKinds } from '../../node/load-quantiser.js';
import { loadTarget, shippedTargets } from '../../node/targets.js';
import { printable } from '../../units/quote.js';
import { fail, ok } from '../../units/result.js';

/** A desk and what it was called on the command line: an id or a path. */
export interface NamedDesk {
  readonly name: string;
  readonly desk: Desk;
}

/** Loads a target and makes its grids, with the user's own kinds among them. */
export const loadDesk = async (target: string, quantiserFiles: readonly string[]): Promise<Outcome<Desk>> => {
  const kinds = await loadQuantiserKinds(quantiserFiles);
  if (!kinds.ok) return kinds;
  const loaded = await loadTarget(target);
  if (!loaded.ok) return loaded;
  const desk = makeDesk(loaded.value, kinds.value);
  return desk.ok ? desk : fail(desk.error.map((each) => ({ ...each, source: `target ${target}` })));
};

/** Loads the desks that were named, or every shipped one: the first that cannot be used stops it. */
export const loadDesks = async (
  names: readonly string[] | undefined,
  quantiserFiles: readonly string[],
): Promise<Outcome<readonly NamedDesk[]>> => {
  const desks: NamedDesk[] = [];
  for (const name of names ?? (await shippedTargets()).map(({ id }) => id)) {
    const desk = await loadDesk(name, quantiserFiles);
    if (!desk.ok) return desk;
    desks.push({ name, desk: desk.value });
  }
  return ok(desks);
};

/** What a desk goes by among others: its id, or what it was called on the command line where others have the same. */
export const deskName = <Named extends Pick<NamedDesk, 'name'> & { readonly id: string }>(
  desk: Named,
  all: readonly Named[],
): string => printable(all.some((other) => other !== desk && other.id === desk.id) ? desk.name : desk.id);
