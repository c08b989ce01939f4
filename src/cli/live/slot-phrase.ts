import { displayText } from '../../exporters/text/knob-text.js';
import type { SlotPlan } from '../../live/plan/plan.js';
import { showArgument } from '../../live/plan/show-argument.js';
import { type Standing, standingType } from '../../live/write/readback.js';
import type { Desk } from '../../model/desk.js';
import { knobNames } from '../../model/knob.js';
import type { PlacedFilter } from '../../model/recipe.js';
import { typeText } from '../../osc/scale.js';

/** A slot as it stands, in a phrase: `off, bell 18.88 kHz Q 12.0 -15.0 dB`. */
export const slotPhrase = (plan: SlotPlan, standing: Standing, desk: Desk): string => {
  if (standing.size === 0) return 'not known';
  const type = standingType(plan, standing, desk);
  const grids = type === null ? undefined : plan.slot.types.get(type)?.grids;
  const shown = (name: string): string | null => {
    const parameter = plan.parameters.find((each) => each.name === name);
    const read = parameter && standing.get(parameter.name);
    return parameter && read ? showArgument(parameter, read, type) : null;
  };
  const knobs = knobNames
    .filter((name) => !grids || grids[name] !== undefined)
    .flatMap((name) => {
      const text = shown(name);
      return text === null ? [] : [name === 'q' ? `Q ${text}` : text];
    });
  const word = type === null ? (shown('type') ?? 'filter') : typeText(type, desk.target.display);
  const isOn = shown('on');
  return `${isOn === null ? '' : `${isOn}, `}${[word, ...knobs].join(' ')}`;
};

/** A filter of a recipe, in the same words: what is to be dialled there. */
export const filterPhrase = ({ type, steps }: PlacedFilter, { target }: Desk): string => {
  const knobs = knobNames.flatMap((knob) => {
    const position = steps[knob];
    // A knob of one step is no dial.
    return position && (position.of > 1 || knob === 'frequency') ? [displayText(knob, position)] : [];
  });
  const isSwitched = target.osc?.addresses.on !== undefined;
  return `${[typeText(type, target.display), ...knobs].join(' ')}${isSwitched ? ', on' : ''}`;
};

/** What a slot is to be, in the same words. */
export const wantedPhrase = (plan: SlotPlan, found: Standing, desk: Desk): string => {
  const wanted = [...plan.wanted].map(([name, { argument }]) => [name, argument] as const);
  return slotPhrase(plan, new Map([...found, ...wanted]), desk);
};
