import type { FilterValues, Guard, PlacedFilter, Recipe, RecipeMix } from '../../src/model/recipe.js';
import { figure, frequency, numbersIn, type Told } from './numbers.js';

/**
 * The numbers that a sheet must tell of a group, in the order they stand in, worked out from the recipe's JSON alone: this
 * shares no code with the sheet, and knows no rounding but that of arithmetic.
 */

const knobsInOrder = ['frequency', 'q', 'bandwidth', 'slope', 'gain'] as const;

const clicks = ({
  of,
  fromBottom,
  fromTop,
}: {
  of: number;
  fromBottom: number;
  fromTop: number;
}): readonly Told[] => {
  const nearer = Math.min(fromBottom, fromTop);
  return of === 1 || nearer === 0 || nearer > 999 ? [] : [String(nearer)];
};

const isSame = (one: number, other: number): boolean => Math.abs(one - other) <= 1e-9 * Math.abs(other || 1);

/** How far a frequency lies off: cents and Hz from the pilot, else cents from what was asked. */
const frequencyError = ({ set, asked, role }: PlacedFilter, pilotHz: number | null): readonly Told[] => {
  if (isSame(set.frequencyHz, asked.frequencyHz)) return [];
  const cents = Math.abs(1200 * Math.log2(set.frequencyHz / asked.frequencyHz));
  const toldCents: Told = cents < 0.05 ? '0.1' : { value: cents, decimals: 1 };
  return role.startsWith('pilot-cut') && asked.frequencyHz === pilotHz
    ? [toldCents, { value: Math.abs(set.frequencyHz - asked.frequencyHz), digits: 3 }]
    : [toldCents, frequency(asked.frequencyHz)];
};

const errorOf = (
  knob: (typeof knobsInOrder)[number],
  placed: PlacedFilter,
  pilotHz: number | null,
): readonly Told[] => {
  const { set, asked, error } = placed;
  if (knob === 'frequency') return frequencyError(placed, pilotHz);
  if (knob === 'gain') {
    if (asked.gainDb === undefined || set.gainDb === undefined || isSame(set.gainDb, asked.gainDb)) return [];
    return [{ value: Math.abs(set.gainDb - asked.gainDb), digits: 3 }, signed(asked.gainDb)];
  }
  if (knob === 'slope') {
    const [from, to] = [asked.slopeDbPerOctave, set.slopeDbPerOctave];
    return from === undefined || to === undefined || isSame(to, from) ? [] : [{ value: from, digits: 4 }];
  }
  const ratio = asked.q !== undefined && set.q !== undefined ? set.q / asked.q : error.qRatio;
  if (ratio === undefined || isSame(ratio, 1)) return [];
  const wanted = [asked.q, asked.bandwidthOctaves].filter((each) => each !== undefined);
  return [...wanted.map((value): Told => ({ value, digits: 4 })), { value: ratio, decimals: 2 }];
};

const signed = (value: number): Told => `${value > 0 ? '+' : ''}${value}`;

const filterParts = (placed: PlacedFilter, pilotHz: number | null): readonly Told[] => [
  // Slots, and roles of the user's own, may be named by numbers.
  ...numbersIn(placed.slot),
  // A further cut at the pilot is called so, not by its number.
  ...(['low-cut', 'pilot-cut', 'high-cut'].includes(placed.role) || placed.role !== placed.asked.role
    ? []
    : numbersIn(placed.role)),
  ...knobsInOrder.flatMap((knob): readonly Told[] => {
    const position = placed.steps[knob];
    return position
      ? [...numbersIn(position.display), ...clicks(position), ...errorOf(knob, placed, pilotHz)]
      : [];
  }),
];

/** What is judged: the figure, its limit, and whether it must not be less. */
const judged = ({ worst, limits }: Guard) => [
  {
    at: worst.pilotAttenuationDb,
    limit: limits.pilotAttenuationAtLeastDb,
    isMissed: worst.pilotAttenuationDb < limits.pilotAttenuationAtLeastDb - 1e-9,
  },
  {
    at: worst.keepLossDb,
    limit: limits.keepLossAtMostDb,
    isMissed: worst.keepLossDb > limits.keepLossAtMostDb + 1e-9,
  },
  { at: worst.riseDb, limit: limits.riseAtMostDb, isMissed: worst.riseDb > limits.riseAtMostDb + 1e-9 },
];

const range = (of: { leastDb: number; mostDb: number } | null): readonly Told[] => {
  if (!of) return [];
  const shown = [of.leastDb, of.mostDb].map((value): Told => ({ value, decimals: 1 }));
  return of.leastDb.toFixed(1) === of.mostDb.toFixed(1) ? shown.slice(0, 1) : shown;
};

const guardParts = (mix: RecipeMix, guard: Guard): readonly Told[] => {
  const { worst, limits } = guard;
  return [
    ...judged(guard).flatMap(({ at, limit, isMissed }) => (isMissed ? [figure(Math.abs(at - limit))] : [])),
    ...mix.missing.flatMap(({ role }) => numbersIn(role)),
    figure(worst.pilotAttenuationDb),
    frequency(guard.pilotHz),
    String(guard.windowHz),
    figure(limits.pilotAttenuationAtLeastDb),
    ...(worst.keepLossDb <= 1e-9 ? [] : [figure(worst.keepLossDb)]),
    frequency(guard.keepLowHz),
    frequency(guard.keepHighHz),
    ...(limits.keepLossAsAskedDb === null ? [] : [figure(limits.keepLossAsAskedDb)]),
    figure(limits.keepLossAtMostDb),
    ...(worst.riseDb <= 1e-9 ? [] : [figure(worst.riseDb)]),
    figure(limits.riseAtMostDb),
    ...range(worst.pilotToProgrammeDb),
    ...range(guard.unfilteredPilotToProgrammeDb),
    ...guard.overDeviatingLineUpsDbfs.map(String),
    ...(guard.byRealisation.length > 1 ? [String(guard.byRealisation.length)] : []),
  ];
};

/** Displays of what differs between two settings, from one to the other; slots where two filters are of one type. */
const changes = (from: readonly PlacedFilter[], to: readonly PlacedFilter[]): readonly Told[] => {
  const slotOf = (placed: PlacedFilter, among: readonly PlacedFilter[]) =>
    among.filter(({ type }) => type === placed.type).length > 1 ? numbersIn(placed.slot) : [];
  return from.flatMap((before): readonly Told[] => {
    const after = to.find(({ role }) => role === before.role);
    if (!after || after.type !== before.type) return slotOf(before, from);
    const moved = knobsInOrder.flatMap((knob): readonly Told[] => {
      const [one, other] = [before.steps[knob], after.steps[knob]];
      return one && other && one.index !== other.index && one.display !== other.display
        ? [...numbersIn(one.display), ...numbersIn(other.display)]
        : [];
    });
    return moved.length > 0 ? [...slotOf(after, to), ...moved] : [];
  });
};

const sameSetting = (one: readonly PlacedFilter[], other: readonly PlacedFilter[]): boolean => {
  const plain = (filters: readonly PlacedFilter[]) =>
    JSON.stringify(
      filters.map(({ role, type, set }): [string, string, FilterValues] => [role, type, set]).sort(),
    );
  return plain(one) === plain(other);
};

const choiceParts = ({ filters, guard, nearest, alternative }: RecipeMix): readonly Told[] => {
  if (!guard || !nearest || (sameSetting(nearest.filters, filters) && !alternative)) return [];
  const figures = (worst: { pilotAttenuationDb: number; keepLossDb: number }): readonly Told[] => [
    { value: worst.pilotAttenuationDb, decimals: 1 },
    { value: Math.max(0, worst.keepLossDb), decimals: 1 },
  ];
  const most = guard.limits.keepLossAsAskedDb ?? guard.limits.keepLossAtMostDb;
  const isTooMuch =
    nearest.worst.keepLossDb > most + 1e-9 &&
    nearest.worst.pilotAttenuationDb > guard.worst.pilotAttenuationDb;
  return [
    ...figures(nearest.worst),
    ...(isTooMuch ? [figure(most)] : []),
    ...figures(guard.worst),
    ...changes(nearest.filters, filters),
    ...(alternative
      ? [
          ...figures(alternative.worst),
          ...changes(filters, alternative.filters),
          // A limit is rounded up, or it would not let the loss be.
          ...(alternative.isHadByLimit
            ? [{ value: Math.ceil(alternative.worst.keepLossDb * 100 - 1e-6) / 100, digits: 12 }]
            : []),
        ]
      : []),
  ];
};

const wayParts = ({ byRealisation }: Guard): readonly Told[] =>
  byRealisation.flatMap(({ id, pilotAttenuationDb, keepLossDb, riseDb }): readonly Told[] => [
    ...numbersIn(id),
    ...[pilotAttenuationDb, keepLossDb, riseDb].map((value): Told => ({ value, decimals: 1 })),
  ]);

/** The numbers of a picture's words: what stands over its panels, how many ways; and its description. */
export const pictureNumbers = ({ filters, guard, audioHighHz }: RecipeMix, ways: number) => {
  const over = guard
    ? [frequency(guard.pilotHz), ...(audioHighHz === undefined ? [] : [frequency(audioHighHz)])]
    : [];
  return {
    words: [...over, ...over, ...(ways > 1 ? [String(ways)] : [])],
    description: [
      // What the panels show: 20 Hz to 22 kHz, and round a pilot at 19 kHz 12 to 20 kHz.
      ...['20', '22', ...(guard ? ['12', '20'] : [])],
      ...filters.map(({ set }) => frequency(set.frequencyHz)),
      ...(guard
        ? [
            frequency(guard.pilotHz),
            String(guard.windowHz),
            figure(guard.worst.pilotAttenuationDb),
            figure(guard.limits.pilotAttenuationAtLeastDb),
            ...(ways > 1 ? [String(ways)] : []),
          ]
        : []),
    ],
  };
};

/** Mixes that get the same, each list a group; those to leave alone are in none. */
export const groupsOf = ({ mixes }: Recipe): readonly (readonly [RecipeMix, ...RecipeMix[]])[] => {
  const groups: [RecipeMix, ...RecipeMix[]][] = [];
  const settings = ({ treatment, filters, guard, nearest, missing }: RecipeMix) =>
    JSON.stringify([treatment, filters, guard, nearest, missing]);
  for (const mix of mixes) {
    if (mix.treatment === 'leave-alone') continue;
    const group = groups.find(([first]) => settings(first) === settings(mix));
    if (group) group.push(mix);
    else groups.push([mix]);
  }
  return groups;
};

/** As many boxes as stand above what is dialled; more stand below it. */
const boxesAbove = 4;

/** Who gets the settings: their outputs where the boxes stand below, and the system where it is one. */
const whoParts = (mixes: readonly RecipeMix[]): readonly Told[] => [
  ...(mixes.length > boxesAbove ? mixes.flatMap(({ outputs }) => outputs.map(String)) : []),
  ...(new Set(mixes.map(({ system }) => system)).size === 1 ? numbersIn(mixes[0]?.system ?? '') : []),
];

const mixParts = (mixes: readonly RecipeMix[]): readonly Told[] => {
  const isOne = new Set(mixes.map(({ system }) => system)).size === 1;
  return mixes.flatMap((mix) =>
    [mix.outputs.join(' '), mix.name, isOne ? '' : (mix.system ?? '')].flatMap((text) => numbersIn(text)),
  );
};

/** All numbers of a group's words, in order: its number, how many mixes, mixes, filters, guard, choices, ways of building. */
export const numbersToTell = (recipe: Recipe, group: readonly [RecipeMix, ...RecipeMix[]], place: number) => {
  const [mix] = group;
  return {
    head: [String(place + 1), ...(group.length > 1 ? [String(group.length)] : [])],
    who: whoParts(group),
    mixes: mixParts(group),
    isLong: group.length > boxesAbove,
    filters: mix.filters.flatMap((placed) => filterParts(placed, mix.guard?.pilotHz ?? null)),
    reason: mix.treatment === 'as-asked' ? numbersIn(mix.reason) : [],
    guard: mix.guard ? guardParts(mix, mix.guard) : [],
    choices: choiceParts(mix),
    ways: mix.guard ? wayParts(mix.guard) : [],
    paper: [recipe.rig.title, recipe.target.title, recipe.target.id].flatMap((text) => numbersIn(text)),
  };
};
