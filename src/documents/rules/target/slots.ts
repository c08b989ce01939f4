import type { FilterType } from '../../../filters/filter.js';
import { type Knob, knobNames } from '../../../model/knob.js';
import { pathTo } from '../../../model/problem.js';
import type { SlotType, Target } from '../../../model/target.js';
import { typeWords } from '../../../model/words.js';
import type { QuantiserSpec } from '../../../quantisers/quantiser.js';
import { type ListedThings, type ListedValue, parseList } from '../../../units/parse-list.js';
import { quote, quoteText } from '../../../units/quote.js';
import { didYouMean, listed } from '../../../units/suggest.js';
import { filterForms } from '../filter-forms.js';
import { linkwitzRileyFault } from '../intents.js';
import { type Breach, brokenBy, type Rule, rule } from '../rule.js';

/** One filter type that a slot offers, and the path to it. */
export interface OfferedType {
  readonly type: FilterType;
  readonly offered: SlotType;
  readonly path: string;
}

/** Every filter type of every slot of a target, or of some of its slots. */
export const offeredTypes = ({ slots }: Pick<Target, 'slots'>): readonly OfferedType[] =>
  slots.flatMap(({ types }, index) =>
    (Object.entries(types) as [FilterType, SlotType][]).map(([type, offered]) => ({
      type,
      offered,
      path: `slots[${index}].types.${type}`,
    })),
  );

/** A rule about each filter type that a slot offers, on its own. */
const slotTypeRule = (
  name: string,
  breaches: (each: OfferedType, target: Target) => readonly Breach[],
): Rule<Target> => rule(name, (target) => offeredTypes(target).flatMap((each) => breaches(each, target)));

/** Every grid a knob names is one of the target's quantisers. */
const gridsExist = slotTypeRule('grids-exist', ({ offered, path }, { quantisers }) =>
  brokenBy(knobNames, (knob) => {
    const reference = offered[knob];
    if (typeof reference !== 'string' || Object.hasOwn(quantisers, reference)) return null;
    const names = Object.keys(quantisers);
    const hint = didYouMean(reference, names) || '.';
    const message = `No quantiser is called ${quote(reference)}${hint} There are: ${listed(names)}.`;
    return [`${path}.${knob}`, message];
  }),
);

const thingsOf: Readonly<Record<Knob, ListedThings>> = {
  frequency: 'frequencies',
  q: 'Qs',
  bandwidth: 'widths in octaves',
  gain: 'gains',
  slope: 'slopes',
};

/** The first value of a table in one text that is written with a unit, which all of them are then of. */
const unitIn = ({ kind, values }: QuantiserSpec): ListedValue | undefined => {
  const read = kind === 'table' && typeof values === 'string' ? parseList(values) : null;
  return read?.ok ? read.value.find(({ things }) => things !== undefined) : undefined;
};

/** A table whose values have a unit is the grid of knobs that are turned in it. Each such pair is told once. */
const unitsFitKnobs: Rule<Target> = rule('units-fit-knobs', (target) => {
  const written = new Map(Object.entries(target.quantisers).map(([name, spec]) => [name, unitIn(spec)]));
  const told = new Set<string>();
  return offeredTypes(target).flatMap(({ offered, path }) =>
    brokenBy(knobNames, (knob) => {
      const reference = offered[knob];
      const value = typeof reference === 'string' ? written.get(reference) : undefined;
      if (value?.things === undefined || value.things === thingsOf[knob]) return null;
      if (told.has(`${knob} ${reference}`)) return null;
      told.add(`${knob} ${reference}`);
      const message = `The table ${quote(reference)} holds ${value.things}, as ${quoteText(value.text)} tells, and this knob turns ${thingsOf[knob]}; name another grid, or correct the unit.`;
      return [`${path}.${knob}`, message];
    }),
  );
});

const widthKnobs = ['q', 'bandwidth', 'slope'] as const;

const widthBreaches = ({ type, offered, path }: OfferedType): readonly Breach[] => {
  const { widths, widthMayBeLeftOut } = filterForms[type];
  const found = widthKnobs.filter((knob) => offered[knob] !== undefined);
  const [only, ...more] = found;
  if (only === undefined ? widthMayBeLeftOut : more.length === 0 && widths.includes(only)) return [];
  const stands = only === undefined ? 'has no knob for its width' : `has ${found.join(' and ')}`;
  const needed = widthMayBeLeftOut ? 'at most one' : 'exactly one';
  const message = `A ${typeWords[type]} here ${stands}; give ${needed}: ${widths.join(' or ')}. A value that cannot be turned is given as a number.`;
  return [[path, message]];
};

const gainBreaches = ({ type, offered, path }: OfferedType): readonly Breach[] => {
  const { gain } = filterForms[type];
  if (gain === (offered.gain !== undefined)) return [];
  const message = gain
    ? `A ${typeWords[type]} needs a gain knob; give gain.`
    : `A ${typeWords[type]} has no gain; take gain out.`;
  return [[`${path}.gain`, message]];
};

/** A slot offers the knobs its filter type is told by, no more and no fewer. */
const knobsFitType = slotTypeRule('knobs-fit-type', (each) => [
  ...widthBreaches(each),
  ...gainBreaches(each),
]);

/** A family lays out a cut with a slope; a Linkwitz-Riley one comes in steps of 12 dB per octave. */
const slotFamily = slotTypeRule('slot-family', ({ offered: { family, slope }, path }) => {
  if (family === undefined) return [];
  if (slope === undefined) {
    const message = `${quote(family)} would be dropped: a family goes with a slope knob only. Give slope or take family out.`;
    return [[`${path}.family`, message]];
  }
  const isFixed = family === 'linkwitz-riley' && typeof slope === 'number';
  const fault = isFixed ? linkwitzRileyFault(slope) : null;
  return fault === null ? [] : [[`${path}.slope`, fault]];
});

/** What holds for the slots of a target. */
export const slotRules: readonly Rule<Target>[] = [gridsExist, unitsFitKnobs, knobsFitType, slotFamily];

/** Every quantiser is the grid of some knob. */
export const unusedQuantisers: Rule<Target> = rule('unused-quantisers', (target) => {
  const used = new Set(offeredTypes(target).flatMap(({ offered }) => knobNames.map((knob) => offered[knob])));
  return Object.keys(target.quantisers)
    .filter((name) => !used.has(name))
    .map((name) => [
      pathTo('quantisers', name),
      `No knob uses the quantiser ${quote(name)}; name it in a slot, or take it out.`,
    ]);
});
