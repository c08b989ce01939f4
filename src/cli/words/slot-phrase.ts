import { displayText } from '../../exporters/words/settings.js';
import type { SlotView } from '../../live/plan/readback.js';
import { knobNames } from '../../model/knob.js';
import type { PlacedFilter } from '../../model/recipe.js';
import type { Target } from '../../model/target.js';
import { typeText } from '../../osc/scale.js';

/** A slot as it stands, in a phrase: `off, bell 18.88 kHz Q 12.0 -15.0 dB`. */
export const slotPhrase = (view: SlotView | null): string => {
  if (view === null) return 'not known';
  const knobs = knobNames.flatMap((name) => {
    const text = view[name];
    return text === undefined ? [] : [name === 'q' ? `Q ${text}` : text];
  });
  return `${view.on === undefined ? '' : `${view.on}, `}${[view.type ?? 'filter', ...knobs].join(' ')}`;
};

/** A filter of a recipe, in the same words: what is to be dialled there. */
export const placedPhrase = ({ type, steps }: PlacedFilter, target: Target): string => {
  const knobs = knobNames.flatMap((knob) => {
    const position = steps[knob];
    // A knob of one step is no dial.
    return position && (position.of > 1 || knob === 'frequency') ? [displayText(knob, position)] : [];
  });
  const isSwitched = target.osc?.addresses.on !== undefined;
  return `${[typeText(type, target.display), ...knobs].join(' ')}${isSwitched ? ', on' : ''}`;
};
