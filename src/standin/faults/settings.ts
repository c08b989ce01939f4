import { quote } from '../../units/quote.js';
import { fail, ok, type Result } from '../../units/result.js';
import type { Delivery, FaultAct, FaultContext } from './fault.js';

/** Reads `10%` as 0.1. */
const readShare = (setting: string): Result<number, string> => {
  const found = /^(\d{1,3}(?:\.\d{1,6})?)%$/.exec(setting);
  const perCent = Number(found?.[1] ?? Number.NaN);
  return perCent <= 100
    ? ok(perCent / 100)
    : fail(`${quote(setting)} is no share of the messages; 0% to 100% is allowed`);
};

/** Reads a whole number, 0 or above. */
export const readWhole = (setting: string, what: string): Result<number, string> =>
  /^\d{1,9}$/.test(setting)
    ? ok(Number(setting))
    : fail(`${quote(setting)} is no ${what}; a whole number is allowed`);

/** A fault that befalls a share of deliveries, each on its own. */
export const befalling = (
  setting: string,
  { random }: FaultContext,
  act: (delivery: Delivery) => readonly Delivery[],
): Result<FaultAct, string> => {
  const share = readShare(setting);
  return share.ok ? ok((delivery) => (random() < share.value ? act(delivery) : [delivery])) : share;
};

/** A number between two, both included but for chance. */
export const between = (least: number, most: number, random: () => number): number =>
  least + (most - least) * random();
