import { type Db, db, type Hz, type Q, q } from '../units/quantity.js';
import type { Design } from './designs/design.js';
import { designFor } from './designs/registry.js';
import { type Filter, gainTypes, type WidthForm, widthForms, widthFormsByType } from './filter.js';
import type { SectionPlan } from './prototype.js';
import type { Realisation } from './realisation.js';
import type { Section } from './section.js';
import { cutSections } from './slopes.js';
import { qMeaningRules, qOfBandwidth, qOfShelfSlope } from './widths.js';

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

/** How a realisation reads the numbers on width knobs. */
type Readings = Pick<Realisation, 'qMeaning' | 'bandwidthMeaning'>;

/**
 * The sections a filter is made of, before any design: one, or as many as a slope needs.
 *
 * `rateHz` is the sample rate or, for an analogue design, the filter's own frequency. Throws RangeError for a
 * width or gain that is missing, told twice or foreign to the type, and for numbers that can't be.
 */
export const planSections = (
  filter: Filter,
  readings: Readings,
  design: Design,
  rateHz: Hz,
): readonly SectionPlan[] => {
  const { type, frequencyHz } = filter;
  const gainDb = gainOf(filter);
  const form = widthFormOf(filter);
  if (form === 'slopeDbPerOctave' && (type === 'lowpass' || type === 'highpass')) {
    return cutSections(given(filter, form), filter.family ?? 'butterworth').map((section) =>
      section.order === 1
        ? { order: 1, type, frequencyHz }
        : { order: 2, type, frequencyHz, q: section.q, gainDb },
    );
  }
  const told = toldQ(filter, form, gainDb, qOfBandwidthBy(readings, design), rateHz);
  const cookbookQ = type === 'peaking' ? qMeaningRules[readings.qMeaning].cookbookQ(told, gainDb) : told;
  return [{ order: 2, type, frequencyHz, q: cookbookQ, gainDb }];
};

const qOfBandwidthBy = ({ bandwidthMeaning }: Readings, design: Design): Design['qOfBandwidth'] => {
  return bandwidthMeaning === 'analogue' ? qOfBandwidth : design.qOfBandwidth;
};

const toldQ = (
  filter: Filter,
  form: WidthForm,
  gainDb: Db,
  readBandwidth: Design['qOfBandwidth'],
  rateHz: Hz,
): Q => {
  if (form === 'bandwidthOctaves') return readBandwidth(given(filter, form), filter.frequencyHz, rateHz);
  if (form === 'shelfSlope') {
    return qOfShelfSlope(filter.shelfSlope === undefined ? 1 : given(filter, form), gainDb);
  }
  return q(given(filter, 'q'));
};

const gainOf = ({ type, gainDb }: Filter): Db => {
  if (gainTypes.includes(type)) {
    if (gainDb === undefined) throw new RangeError(`a ${type} filter needs gainDb`);
    return gainDb;
  }
  if (gainDb !== undefined) throw new RangeError(`a ${type} filter has no gain, yet gainDb is ${gainDb}`);
  return db(0);
};

const widthFormOf = (filter: Filter): WidthForm => {
  const allowed = widthFormsByType[filter.type];
  const told = widthForms.filter((form) => filter[form] !== undefined);
  const [form, another] = told;
  if (form === undefined && allowed.includes('shelfSlope')) return 'shelfSlope';
  if (form === undefined || another !== undefined || !allowed.includes(form)) {
    const found = told.join(' and ') || 'none';
    throw new RangeError(`a ${filter.type} filter needs one of ${allowed.join(', ')}; it has ${found}`);
  }
  return form;
};

const given = <Form extends WidthForm>(filter: Filter, form: Form): NonNullable<Filter[Form]> => {
  const value = filter[form];
  if (value === undefined || !(value > 0 && value < Infinity)) {
    throw new RangeError(`${form} must be a number above 0, not ${value}`);
  }
  return value;
};
