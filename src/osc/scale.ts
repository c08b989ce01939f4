import type { FilterType } from '../filters/filter.js';
import type { DeskSlot } from '../model/desk.js';
import { displayValue } from '../model/display.js';
import { type Knob, knobs } from '../model/knob.js';
import type { Display, Osc, Slot } from '../model/target.js';
import { typeWords } from '../model/words.js';
import type { Quantiser } from '../quantisers/quantiser.js';
import { step } from '../units/quantity.js';
import type { Scale } from './encodings/encoding.js';

/** A knob's grid, as the desk shows it. */
export const knobScale = (knob: Knob, grid: Quantiser, display: Display): Scale => ({
  count: grid.count,
  measure: knobs[knob].measure,
  at: (index) => {
    const value = grid.valueAt(step(index));
    return { index, of: grid.count, value, text: displayValue(knob, value, display) };
  },
});

const wordScale = (texts: readonly string[], value: (index: number) => number | null): Scale => ({
  count: texts.length,
  measure: null,
  at: (index) => {
    const text = texts[index];
    if (text === undefined) throw new RangeError(`there is no step ${index} among ${texts.join(', ')}`);
    return { index, of: texts.length, value: value(index), text };
  },
});

/** A slot's switch: a scale of two steps, shown as `off` and `on`. */
export const switchScale: Scale = wordScale(['off', 'on'], (index) => index);

/** What a desk calls a filter type: its own label, or the word people use. */
export const typeText = (type: FilterType, { typeLabels }: Display): string =>
  typeLabels?.[type] ?? typeWords[type];

/** The order in which a slot's types are counted: its own, or that of all slots; undefined where types are not counted. */
export const typeOrderOf = (
  { typeOrder }: Pick<Slot, 'typeOrder'>,
  { encodings }: Osc,
): readonly FilterType[] | undefined => typeOrder ?? encodings.type?.order;

/** The filter types a desk counts in a slot: in the order that holds there, or those it offers. */
export const countedTypes = (slot: DeskSlot, osc: Osc): readonly FilterType[] =>
  typeOrderOf(slot, osc) ?? [...slot.types.keys()];

/** Filter types as a scale: a step for each. */
export const typeScale = (types: readonly FilterType[], display: Display): Scale =>
  wordScale(
    types.map((type) => typeText(type, display)),
    () => null,
  );
