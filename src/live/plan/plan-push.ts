import { buildChain } from '../../filters/build.js';
import type { Filter } from '../../filters/filter.js';
import { riseDb } from '../../guard/guard-figures.js';
import type { Desk, DeskSlot } from '../../model/desk.js';
import { knobNames, knobs } from '../../model/knob.js';
import { allOf, type Outcome, type Problem, problem } from '../../model/problem.js';
import type { Recipe } from '../../model/recipe.js';
import type { OscParameter } from '../../model/target.js';
import { filterPhrase } from '../../model/words.js';
import { oscOf } from '../../osc/address.js';
import {
  type FilterPlace,
  filterMessages,
  type OscTarget,
  recipeTargetFault,
  type SentFilter,
} from '../../osc/recipe-messages.js';
import { slotParameters } from '../../osc/slot-parameters.js';
import { step } from '../../units/quantity.js';
import { quote } from '../../units/quote.js';
import { fail, ok } from '../../units/result.js';
import { type MixPlan, planMix, type SlotPlan, type Wanted } from './plan.js';
import { showArgument } from './readback.js';

const anew = 'Make the recipe anew for this target.';

/** Everything a filter says of its knobs that is not so on the desk's own grids. */
const gridFaults = (placed: SentFilter, slot: DeskSlot, { target }: Desk, path: string): readonly Problem[] =>
  knobNames.flatMap((knob) => {
    const position = placed.steps[knob];
    const grid = slot.types.get(placed.type)?.grids[knob];
    if (!grid && !position) return [];
    const at = `${path}.steps.${knob}`;
    if (!grid || !position) {
      const told = `The ${knob} is ${position ? 'set' : 'not set'} here, and a ${placed.type} on slot ${slot.id} of ${quote(target.id)} has ${grid ? 'one' : 'none'}. ${anew}`;
      return [problem('recipe-off-grid', at, told)];
    }
    const { index, of } = position;
    const set = placed.set[knobs[knob].value];
    const value = index < grid.count ? grid.valueAt(step(index)) : null;
    if (of === grid.count && value !== null && value === set) return [];
    const stands = value === null ? `of ${grid.count} none` : `${value} of ${grid.count} steps`;
    const told = `Step ${index} of ${of} is to be ${set}; on ${quote(target.id)} it is ${stands}. ${anew}`;
    return [problem('recipe-off-grid', at, told)];
  });

/** What a filter wants of its slot: its messages, each as the last word on its parameter. */
export const planFilter = (place: FilterPlace, desk: Desk, target: OscTarget): Outcome<SlotPlan> => {
  const { mix, output, placed, path } = place;
  const messages = filterMessages(place, target);
  if (!messages.ok) return messages;
  const slot = desk.slots.find(({ id }) => id === placed.slot);
  if (!slot) throw new RangeError(`the desk lacks slot ${placed.slot} of its own target`);
  const faults = gridFaults(placed, slot, desk, path);
  if (faults.length > 0) return fail(faults);
  const parameters = slotParameters(slot, output, desk);
  if (!parameters.ok) return parameters;
  const wanted = new Map<OscParameter, Wanted>();
  for (const { parameter: name, message } of messages.value) {
    const parameter = parameters.value.find((each) => each.name === name);
    const [argument] = message.args;
    if (!parameter || !argument) throw new RangeError(`${name} of slot ${slot.id} is sent and not known`);
    wanted.set(name, { argument, display: showArgument(parameter, argument, placed.type), byStep: true });
  }
  return ok({ mix, output, slot, parameters: parameters.value, wanted });
};

/** Nothing is ever written to a feed without a pilot, whatever a file says: it may have been edited since. */
const pilotlessFaults = ({ mixes }: Recipe): readonly Problem[] =>
  mixes.flatMap(({ treatment, link, filters, name }, index) =>
    (treatment === 'leave-alone' ? filters.length > 0 : link === 'digital' || link === 'wired')
      ? [
          problem(
            'leave-alone',
            `mixes[${index}]`,
            `${quote(name)} feeds a ${link ?? 'plain'} link and is to be left alone, and the recipe has filters for it. Nothing was sent. ${anew}`,
          ),
        ]
      : [],
  );

/**
 * What a recipe wants to stand where on a desk: for every mix that is not left alone, in order. All or nothing: what
 * cannot be sent exactly as the recipe tells is a problem.
 */
export const planPush = (recipe: Recipe, desk: Desk): Outcome<readonly MixPlan[]> => {
  const { target } = desk;
  const fault = recipeTargetFault(recipe, target);
  if (fault) return fail([fault]);
  const pilotless = pilotlessFaults(recipe);
  if (pilotless.length > 0) return fail(pilotless);
  const osc = oscOf(target);
  if (!osc.ok) return osc;
  return allOf(
    recipe.mixes.flatMap(({ name, outputs, filters, treatment }, index): readonly Outcome<MixPlan>[] => {
      if (treatment === 'leave-alone') return [];
      const path = `mixes[${index}]`;
      const planSlots = (writeTo: readonly number[]): Outcome<readonly SlotPlan[]> =>
        allOf(
          writeTo.flatMap((output) =>
            filters.map((placed, at) =>
              planFilter({ mix: name, output, placed, path: `${path}.filters[${at}]` }, desk, {
                ...target,
                osc: osc.value,
              }),
            ),
          ),
        );
      return [planMix({ name, outputs }, desk, path, planSlots)];
    }),
  );
};

/** How much the filters of a mix together may raise any level, unless told otherwise. */
const greatestRiseDb = 0.5;

/**
 * Everything in a recipe that raises a level: a set gain above 0 dB, or filters that together, in the worst way the
 * desk may build them, lift some frequency by more than 0.5 dB. It is worked out anew, whatever the recipe says.
 */
export const rises = (recipe: Recipe, { target }: Desk): readonly Problem[] =>
  recipe.mixes.flatMap(({ name, filters, treatment }, index) => {
    if (treatment === 'leave-alone') return [];
    const chain = filters.map(({ type, set }): Filter => ({ type, ...set }));
    const raised = chain.find(({ gainDb }) => gainDb !== undefined && gainDb > 0);
    const worstDb = Math.max(
      ...target.realisations.map((each) => riseDb(buildChain(chain, each), each.sampleRateHz)),
    );
    const why = raised
      ? `a ${filterPhrase(raised)} is among its filters`
      : worstDb > greatestRiseDb
        ? `its filters lift some frequency by ${worstDb.toFixed(1)} dB`
        : null;
    return why === null
      ? []
      : [
          problem(
            'raises-level',
            `mixes[${index}]`,
            `${quote(name)} would be raised: ${why}. Nothing was sent. If that is meant, ask for it with allowRise, and start low.`,
          ),
        ];
  });
