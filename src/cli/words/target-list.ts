import type { Desk } from '../../model/desk.js';
import type { Outcome } from '../../model/problem.js';
import { shippedTargets } from '../../node/targets.js';
import { printable } from '../../units/quote.js';
import { ok } from '../../units/result.js';
import { loadDesk } from './load-desk.js';

/** A desk and what it was called on the command line: an id or a path. */
export interface NamedDesk {
  readonly name: string;
  readonly desk: Desk;
}

/** What a desk goes by among others: its id, or what it was called on the command line where others have the same. */
export const deskName = <Named extends Pick<NamedDesk, 'name'> & { readonly id: string }>(
  desk: Named,
  all: readonly Named[],
): string => printable(all.some((other) => other !== desk && other.id === desk.id) ? desk.name : desk.id);

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
