import fc from 'fast-check';
import { between, frequencyHz, gainDb, id, joined, type Plain, q, record, text } from './plain.js';

const cutWidth = fc.oneof(
  record({ q }),
  record(
    { slopeDbPerOctave: fc.constantFrom(6, 12, 18, 24, 30, 36, 42, 48) },
    { family: fc.constant('butterworth') },
  ),
  record({ slopeDbPerOctave: fc.constantFrom(12, 24, 36, 48), family: fc.constant('linkwitz-riley') }),
);
const bandWidth = fc.oneof(record({ q }), record({ bandwidthOctaves: between(1e-9, 20) }));
const shelfWidth = fc.oneof(record({}), record({ q }), record({ shelfSlope: between(1e-9, 1) }));
const gain = record({ gainDb });

const filter = fc.oneof(
  joined(record({ type: fc.constantFrom('lowpass', 'highpass'), frequencyHz }), cutWidth),
  joined(record({ type: fc.constantFrom('notch', 'bandpass'), frequencyHz }), bandWidth),
  joined(record({ type: fc.constant('allpass'), frequencyHz }), record({ q })),
  joined(record({ type: fc.constant('peaking'), frequencyHz }), bandWidth, gain),
  joined(record({ type: fc.constantFrom('lowshelf', 'highshelf'), frequencyHz }), shelfWidth, gain),
);

export const protective = ['low-cut', 'pilot-cut', 'high-cut'];
const role = id.filter((each) => !protective.includes(each));
const ownIntent = joined(record({ role }), filter);
const movableIntent = joined(
  record(
    { role: fc.constant('high-cut'), type: fc.constant('lowpass'), frequencyHz },
    { mayMove: fc.boolean() },
  ),
  cutWidth,
);
export const intent = fc.oneof({ weight: 4, arbitrary: ownIntent }, { weight: 1, arbitrary: movableIntent });
export const intentList = fc.uniqueArray(intent, {
  minLength: 1,
  maxLength: 4,
  selector: (each) => each.role,
});

export const intents: fc.Arbitrary<Plain> = record({
  format: fc.constant('bandwright-intents/1'),
  title: text,
  intents: intentList,
});
