import { type Outcome, problem } from '../model/problem.js';
import type { Osc } from '../model/target.js';
import { type AskedValue, questionKey } from '../osc/asking/question.js';
import { questionFor } from '../osc/asking/registry.js';
import { quote } from '../units/quote.js';
import { fail, ok } from '../units/result.js';
import type { LayoutSlot, Place } from './address-map.js';

/** What one question asks for, and where the answer goes. */
export interface AskedPlace {
  /** The address of what is asked for. */
  readonly address: string;
  readonly place: Place;
  readonly answerAddress: string;
}

const asValue = (address: string, place: Place, slots: readonly LayoutSlot[]): AskedValue => {
  const { output } = place;
  if (place.kind === 'name') return { name: 'outputName', place: { output }, address };
  const slot = slots[place.slot]?.id ?? '';
  return { name: place.dial.name, place: { output, slot }, address };
};

/**
 * Every question a desk answers, by its key. Problems: a value that cannot be asked for, an address that would ask for
 * two values, or ask for one and belong to another.
 */
export const allQuestions = (
  places: ReadonlyMap<string, Place>,
  slots: readonly LayoutSlot[],
  osc: Osc,
): Outcome<ReadonlyMap<string, AskedPlace>> => {
  const questions = new Map<string, AskedPlace>();
  const answerAddresses = new Set<string>();
  const unfit = (code: string, told: string) => fail([problem(code, 'osc.read', told)]);
  for (const [address, place] of places) {
    const question = questionFor(osc, asValue(address, place, slots));
    if (!question.ok) return unfit('osc-address-unfit', question.error);
    if (question.value === null) continue;
    const { message, answerAddress } = question.value;
    const key = questionKey(message);
    const isOthers = [message.address, answerAddress].some((each) => (places.get(each) ?? place) !== place);
    if (isOthers || questions.has(key) || answerAddresses.has(answerAddress)) {
      const told = `${quote(message.address)}, which asks for what stands at ${quote(address)}, stands for something else too. Ask for each value at an address of its own.`;
      return unfit('osc-address-shared', told);
    }
    questions.set(key, { address, place, answerAddress });
    answerAddresses.add(answerAddress);
  }
  return ok(questions);
};
