import type { FilterType } from '../../filters/filter.js';
import { familySlopes } from '../../filters/slopes.js';
import type { Intent, IntentsDocument, ProtectiveRole } from '../../model/intent.js';
import { knobs } from '../../model/knob.js';
import type { Rig } from '../../model/rig.js';
import { typeWords } from '../../model/words.js';
import { quote } from '../../units/quote.js';
import { filterForms } from './filter-forms.js';
import { type Breach, brokenBy, type Rule, repeated, rule } from './rule.js';

/** Both documents that hold intents. */
export type IntentsHolder = IntentsDocument | Rig;

/** A rule about each intent on its own. */
const intentRule = (
  name: string,
  breach: (intent: Intent, path: string) => Breach | null,
): Rule<IntentsHolder> =>
  rule(name, ({ intents = [] }) => brokenBy(intents, (intent, index) => breach(intent, `intents[${index}]`)));

/** Filters are told apart by their roles. */
const uniqueRoles: Rule<IntentsHolder> = rule('unique-roles', ({ intents = [] }) =>
  repeated(intents.map(({ role }) => role)).map(({ name, index, firstIndex }) => [
    `intents[${index}].role`,
    `The role ${quote(name)} is that of intents[${firstIndex}] already; give each intent a role of its own.`,
  ]),
);

type TypesByRole = Readonly<Record<ProtectiveRole, readonly FilterType[]>>;

const typesOf = (role: string, types: TypesByRole): readonly FilterType[] | undefined =>
  Object.hasOwn(types, role) ? types[role as ProtectiveRole] : undefined;

/** A low cut is a highpass and a high cut a lowpass: taken for each other they would silence a mix. */
const typesForRole: TypesByRole = {
  'low-cut': ['highpass', 'lowshelf'],
  'pilot-cut': ['notch', 'peaking', 'lowpass', 'highshelf'],
  'high-cut': ['lowpass', 'highshelf'],
};

/** An intent with a protective role has a type that can play it. */
const roleFitsType = intentRule('role-fits-type', ({ role, type }, path) => {
  const types = typesOf(role, typesForRole);
  if (!types || types.includes(type)) return null;
  const stands = `The role ${quote(role)} is given to a ${type}, in words a ${typeWords[type]}`;
  return [`${path}.type`, `${stands}; allowed are ${types.join(', ')}.`];
});

const widthKeys = ['q', 'bandwidthOctaves', 'shelfSlope', 'slopeDbPerOctave'] as const;

/** An intent tells its width in exactly one of the forms its type has; a shelf may leave it out. */
const oneWidthForm = intentRule('one-width-form', (intent, path) => {
  const { widths, gain, widthMayBeLeftOut } = filterForms[intent.type];
  const isShelf = gain && widthMayBeLeftOut;
  const allowed: readonly string[] = [
    ...widths.map((knob) => knobs[knob].value),
    ...(isShelf ? ['shelfSlope'] : []),
  ];
  const keys = widthKeys.filter((key) => intent[key] !== undefined);
  const [only, ...more] = keys;
  if (only === undefined ? widthMayBeLeftOut : more.length === 0 && allowed.includes(only)) return null;
  const stands = keys.length === 0 ? 'tells no width' : `tells its width by ${keys.join(' and ')}`;
  const needed = widthMayBeLeftOut ? 'at most one' : 'exactly one';
  return [path, `This ${typeWords[intent.type]} ${stands}; give ${needed}: ${allowed.join(' or ')}.`];
});

/** Bells and shelves have a gain; on any other type it would be dropped. */
const gainWhereItActs = intentRule('gain-where-it-acts', ({ type, gainDb }, path) => {
  const { gain } = filterForms[type];
  if (gain === (gainDb !== undefined)) return null;
  const message = gain
    ? `A ${typeWords[type]} needs a gain; give gainDb.`
    : `A ${typeWords[type]} has no gain, so ${gainDb} dB would be dropped; take gainDb out.`;
  return [`${path}.gainDb`, message];
});

/** A family lays out a cut with a slope; anywhere else it would be dropped. */
const familyBesideSlope = intentRule('family-beside-slope', ({ family, slopeDbPerOctave }, path) => {
  if (family === undefined || slopeDbPerOctave !== undefined) return null;
  const message = `${quote(family)} would be dropped: a family goes with slopeDbPerOctave only. Give a slope or take the family out.`;
  return [`${path}.family`, message];
});

/** What is wrong with the slope of a Linkwitz-Riley cut: it comes in steps of 12 dB per octave. */
export const linkwitzRileyFault = (slopeDbPerOctave: number): string | null => {
  const slopes = familySlopes['linkwitz-riley'];
  return slopes.includes(slopeDbPerOctave)
    ? null
    : `No Linkwitz-Riley cut has ${slopeDbPerOctave} dB per octave; allowed are ${slopes.join(', ')}.`;
};

const linkwitzRileySlope = intentRule('linkwitz-riley-slope', ({ family, slopeDbPerOctave }, path) => {
  if (family !== 'linkwitz-riley' || slopeDbPerOctave === undefined) return null;
  const fault = linkwitzRileyFault(slopeDbPerOctave);
  return fault === null ? null : [`${path}.slopeDbPerOctave`, fault];
});

/** What a protective fit can move, or take another slope for. */
const movableTypes: TypesByRole = {
  'low-cut': ['highpass'],
  'pilot-cut': ['peaking', 'notch'],
  'high-cut': ['lowpass'],
};

/** Leave to move a filter is given to one that would be moved. */
const mayMove = intentRule('may-move', ({ role, type, mayMove: isAllowed }, path) => {
  if (!isAllowed || typesOf(role, movableTypes)?.includes(type)) return null;
  const allowed = Object.entries(movableTypes).map(([each, types]) => `${each} (${types.join(' or ')})`);
  const message = `The ${type} of role ${quote(role)} is never moved. Leave mayMove out, or give it to one of: ${allowed.join(', ')}.`;
  return [`${path}.mayMove`, message];
});

/** What holds for the intents of an intents file, and for those of a rig. */
export const intentsRules: readonly Rule<IntentsHolder>[] = [
  uniqueRoles,
  roleFitsType,
  oneWidthForm,
  gainWhereItActs,
  familyBesideSlope,
  linkwitzRileySlope,
  mayMove,
];
