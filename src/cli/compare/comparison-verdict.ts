import type { ComparedDesk } from '../../analysis/compare/compared-desk.js';
import { type ExitCode, exitCodes } from '../words/exit-code.js';

/** Done where one desk at least does all that was asked; a desk that lacks a filter falls short, as its recipe does. */
export const comparisonExitCode = (compared: readonly ComparedDesk[]): ExitCode =>
  compared.some((desk) => desk.fits && desk.verdict !== 'falls-short' && desk.missing.length === 0)
    ? exitCodes.done
    : exitCodes.fallsShort;
