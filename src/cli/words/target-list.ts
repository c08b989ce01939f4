import { Option } from 'commander';
import type { Desk } from '../../model/desk.js';
import type { Outcome } from '../../model/problem.js';
import { shippedTargets } from '../../node/targets.js';
import { printable } from '../../units/quote.js';
import { fail, ok, type Result } from '../../units/result.js';
import { loadDesk } from './load-desk.js';
import { parsedBy } from './options.js';

/** A desk and what it was called on the command line: an id or a path. */
export interface NamedDesk {
  readonly name: string;
  readonly desk: Desk;
}

/** The names in a list by commas. */
export const parseTargets = (text: string): Result<readonly string[], string> => {
  const names = text.split(',').map((name) => name.trim());
  return names.includes('')
    ? fail(
        'Between commas stands the id of a shipped target or the path of a file, as in r40,./our-desk.json.',
      )
    : ok(names);
};

/** Several desks; given twice it names the desks of both. */
export const targetsOption = (flags: string, description: string) =>
  new Option(flags, description).argParser((text: string, before: readonly string[] | undefined) => [
    ...new Set([...(before ?? []), ...parsedBy(parseTargets)(text)]),
  ]);

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
