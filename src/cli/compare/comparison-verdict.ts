import type { ComparedDesk, ServedDesk } from '../../analysis/compare/compared-desk.js';
import { type ExitCode, exitCodes } from '../words/exit-code.js';
import { deskName } from '../words/load-desk.js';

/** A desk that lacks a filter falls short, as its recipe does. */
const doesAll = (desk: ComparedDesk): desk is ServedDesk =>
  desk.fits && desk.verdict !== 'falls-short' && desk.missing.length === 0;

/** Done where one desk at least does all that was asked. */
export const comparisonExitCode = (compared: readonly ComparedDesk[]): ExitCode =>
  compared.some(doesAll) ? exitCodes.done : exitCodes.fallsShort;

/** What it comes to, in a sentence; the desks stand in their order, the best first. */
export const comparisonResult = (compared: readonly ComparedDesk[]): string => {
  const [best] = compared;
  const count = compared.filter(doesAll).length;
  const desks = compared.length === 1 ? '1 desk' : `${compared.length} desks`;
  if (!best?.fits) return `The rig fits on none of ${desks}.`;
  if (best.pilot === null) return 'There is nothing to guard.';
  const name = deskName(best, compared);
  return count === 0
    ? `None of ${desks} meets the guard with every filter; ${name} comes nearest.`
    : `${count} of ${desks} ${count === 1 ? 'meets' : 'meet'} the guard with every filter; ${name} serves best.`;
};
