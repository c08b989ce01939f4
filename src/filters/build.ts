import type { Hz } from '../units/quantity.js';
import type { Design } from './designs/design.js';
import { designFor } from './designs/registry.js';
import type { Filter } from './filter.js';
import { planSections } from './plan.js';
import type { Realisation } from './realisation.js';
import type { Section } from './section.js';

/**
 * The sections of one filter as a realisation builds it. Where its design does not cover the type, the
 * cookbook makes them (see `designFor`).
 *
 * Throws RangeError where the filter can't be built: a frequency that is not above 0 or not below half the
 * sample rate, a digital design without a sample rate, a width or gain that is missing, told twice or foreign
 * to the type, a slope its family does not have.
 */
export const buildSections = (filter: Filter, realisation: Realisation): readonly Section[] => {
  const design = designFor(realisation.design, filter.type);
  const rateHz = rateFor(filter, design, realisation);
  return planSections(filter, realisation, design, rateHz).map((plan) =>
    finite(design.section(plan, rateHz), filter),
  );
};

/** The sections of several filters, one after another. */
export const buildChain = (filters: readonly Filter[], realisation: Realisation): readonly Section[] =>
  filters.flatMap((filter) => buildSections(filter, realisation));

const rateFor = ({ frequencyHz }: Filter, design: Design, { id, sampleRateHz }: Realisation): Hz => {
  if (!(frequencyHz > 0 && frequencyHz < Infinity)) {
    throw new RangeError(`frequencyHz must be a number above 0, not ${frequencyHz}`);
  }
  if (design.domain === 's') return frequencyHz;
  if (sampleRateHz === null) throw new RangeError(`realisation ${id} needs a sample rate`);
  if (!(frequencyHz < sampleRateHz / 2)) {
    throw new RangeError(`frequencyHz ${frequencyHz} is not below half the sample rate ${sampleRateHz}`);
  }
  return sampleRateHz;
};

/** Widths and gains beyond all sense overflow; an endless coefficient would make every figure after it NaN. */
const finite = (section: Section, filter: Filter): Section => {
  const { b0, b1, b2, a1, a2 } = section;
  if (![b0, b1, b2, a1, a2].every(Number.isFinite)) {
    throw new RangeError(`coefficients overflow for ${JSON.stringify(filter)}`);
  }
  return section;
};
