import { type Db, db, type Hz, type Q, q } from '../units/quantity.js';
import type { Design } from './designs/design.js';
import type { Filter, FilterType } from './filter.js';
import type { SectionPlan } from './prototype.js';
import { qMeaningRules } from './q-meanings.js';
import type { Realisation } from './realisation.js';
import { cutSections } from './slopes.js';
import { qOfBandwidth, qOfShelfSlope } from './widths.js';

/** The forms a width may be told in. */
export type WidthForm = keyof Pick<Filter, 'q' | 'bandwidthOctaves' | 'shelfSlope' | 'slopeDbPerOctave'>;

/** The forms each type takes. Only shelves may tell none: their slope is then 1. */
export const widthForms: Readonly<Record<FilterType, readonly WidthForm[]>> = {
  lowpass: ['q', 'slopeDbPerOctave'],
  highpass: ['q', 'slopeDbPerOctave'],
  bandpass: ['q', 'bandwidthOctaves'],
  notch: ['q', 'bandwidthOctaves'],
  allpass: ['q'],
  peaking: ['q', 'bandwidthOctaves'],
  lowshelf: ['q', 'shelfSlope'],
  highshelf: ['q', 'shelfSlope'],
};

/** The types that have a gain, and must tell it. */
export const gainTypes: readonly FilterType[] = ['peaking', 'lowshelf', 'highshelf'];

const isShelf = (type: FilterType): boolean => type === 'lowshelf' || type === 'highshelf';

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
  const allowed = widthForms[filter.type];
  const told = allWidthForms.filter((form) => filter[form] !== undefined);
  const [form, another] = told;
  if (form === undefined && isShelf(filter.type)) return 'shelfSlope';
  if (form === undefined || another !== undefined || !allowed.includes(form)) {
    const found = told.join(' and ') || 'none';
    throw new RangeError(`a ${filter.type} filter needs one of ${allowed.join(', ')}; it has ${found}`);
  }
  return form;
};

const allWidthForms: readonly WidthForm[] = ['q', 'bandwidthOctaves', 'shelfSlope', 'slopeDbPerOctave'];

const given = <Form extends WidthForm>(filter: Filter, form: Form): NonNullable<Filter[Form]> => {
  const value = filter[form];
  if (value === undefined || !(value > 0 && value < Infinity)) {
    throw new RangeError(`${form} must be a number above 0, not ${value}`);
  }
  return value;
};
