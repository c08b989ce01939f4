import type { FilterType } from '../../filters/filter.js';
import type { Desk } from '../../model/desk.js';
import type { FoundArgument, Journal, JournalMix, JournalSlot } from '../../model/journal.js';
import { allOf, type Outcome, type Problem, problem } from '../../model/problem.js';
import type { OscParameter } from '../../model/target.js';
import type { OscArgument } from '../../osc/message.js';
import { type SlotParameter, slotParameters } from '../../osc/slot-parameters.js';
import { quote } from '../../units/quote.js';
import { fail, ok } from '../../units/result.js';
import { type MixPlan, mixPlan, type SlotPlan, type Wanted } from './plan.js';
import { isOnGrid, readbackType, settingRead, showArgument } from './readback.js';

/** A journal's argument as it goes on the wire; null where it holds no such value. */
const asOscArgument = ({ type, number, text }: FoundArgument): OscArgument | null => {
  if (type === 's') return text === undefined ? null : { type, value: text };
  if (type === 'h') return text === undefined ? null : { type, value: BigInt(text) };
  return number === undefined ? null : { type, value: number };
};

/** An argument as a journal keeps it; null for the types no target sends. */
export const asFoundArgument = (argument: OscArgument): FoundArgument | null => {
  switch (argument.type) {
    case 's':
      return { type: 's', text: argument.value };
    case 'h':
      return { type: 'h', text: String(argument.value) };
    case 'i':
    case 'f':
    case 'd':
      // -0 is 0: JSON has no other.
      return { type: argument.type, number: argument.value + 0 };
    default:
      return null;
  }
};

/** How a journal is believed: whole, as it was written, or as somebody changed it since. */
export type JournalTrust = 'as-written' | 'changed';

/** Why a value that somebody may have typed is not sent, as the end of a sentence; null where it may be. */
const typedFault = (
  parameter: SlotParameter,
  argument: OscArgument,
  display: string | null,
  type: FilterType | null,
): string | null => {
  if (!isOnGrid(parameter, argument, type)) return 'is no step of the target';
  const shown = showArgument(parameter, argument, type);
  return shown === display
    ? null
    : `is ${quote(shown)} there, and the journal says ${display === null ? 'nothing' : quote(display)}`;
};

const planSlot = (
  { output, slot: id, found }: JournalSlot,
  mix: string,
  { desk, trust }: { readonly desk: Desk; readonly trust: JournalTrust },
  path: string,
): Outcome<SlotPlan> => {
  const slot = desk.slots.find((each) => each.id === id);
  const parameters = slot ? slotParameters(slot, output, desk) : null;
  if (!slot || !parameters) {
    const told = `The journal's target has no slot ${quote(id)}. The journal was changed since it was written; nothing was sent.`;
    return fail([problem('slot-unknown', `${path}.slot`, told)]);
  }
  if (!parameters.ok) return parameters;
  const wanted = new Map<OscParameter, Wanted>();
  const problems: Problem[] = [];
  found.forEach(({ parameter: name, address, argument, display }, index) => {
    const known = parameters.value.find((each) => each.name === name);
    const value = asOscArgument(argument);
    if (known?.address !== address || known.encoding.type !== argument.type || value === null) {
      const told = `${quote(address)} is not where the journal's own target has ${name} of slot ${quote(id)}, or not of its type. The journal was changed since it was written; nothing was sent.`;
      problems.push(problem('journal-contradicts', `${path}.found[${index}]`, told));
      return;
    }
    wanted.set(name, { argument: value, display, byStep: false });
  });
  if (problems.length > 0) return fail(problems);
  const plan: SlotPlan = { mix, output, slot, parameters: parameters.value, wanted };
  if (trust === 'as-written') return ok(plan);
  const type = readbackType(
    plan,
    new Map([...wanted].map(([name, { argument }]) => [name, argument] as const)),
    desk,
  );
  found.forEach(({ parameter: name, address, display }, index) => {
    const parameter = plan.parameters.find((each) => each.name === name);
    const argument = wanted.get(name)?.argument;
    const fault = parameter && argument ? typedFault(parameter, argument, display, type) : null;
    if (fault === null) return;
    const told = `What is to be sent to ${quote(address)} ${fault}. A journal that was changed is put back only where every value is one the desk can show, and is told so; nothing was sent.`;
    problems.push(problem('journal-contradicts', `${path}.found[${index}]`, told));
  });
  return problems.length > 0 ? fail(problems) : ok(plan);
};

/** What the outputs of a mix were called on the desk when it was read, if that was kept. */
const namesFound = ({ name, outputs, names }: JournalMix): readonly (string | null)[] =>
  outputs.map((output) => (names ? (names.find((each) => each.output === output)?.name ?? null) : name));

/** Every gain above 0 dB that is to be put back, whatever the journal it comes from: it would raise a level. */
export const raisedBy = (plans: readonly MixPlan[], desk: Desk): readonly Problem[] =>
  plans.flatMap(({ name, slots }) => {
    const raised = slots.find(({ wanted, parameters, ...slot }) => {
      const [gain, parameter] = [wanted.get('gain'), parameters.find((each) => each.name === 'gain')];
      const standing = new Map([...wanted].map(([each, { argument }]) => [each, argument] as const));
      const type = readbackType({ ...slot, wanted, parameters }, standing, desk);
      const setting = parameter && gain ? settingRead(parameter, gain.argument, type) : null;
      return (setting?.value ?? 0) > 0;
    });
    if (!raised) return [];
    const told = `${quote(name)} would be raised: a gain of ${raised.wanted.get('gain')?.display} is to be put back in slot ${raised.slot.id}, and the journal was changed. Nothing was sent. If that is meant, ask for it with allowRise, and start low.`;
    return [problem('raises-level', `mixes[${quote(name)}]`, told)];
  });

/**
 * What a journal wants to stand where again: everything as it was found. `desk` is the journal's own target's. What
 * was found is put back where it was, whatever outputs may be a pair, and to the last digit; but of a journal that was
 * changed since only what its desk can show, and as the journal says it does.
 */
export const planRestore = (
  { mixes }: Journal,
  desk: Desk,
  trust: JournalTrust,
): Outcome<readonly MixPlan[]> =>
  allOf(
    mixes.map((mix, index) => {
      const path = `mixes[${index}]`;
      const slots = mix.slots.map((slot, at) =>
        planSlot(slot, mix.name, { desk, trust }, `${path}.slots[${at}]`),
      );
      return mixPlan(mix, desk.target, allOf(slots), namesFound(mix));
    }),
  );
