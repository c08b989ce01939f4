import type { DeskSlot } from '../../model/desk.js';
import type { Intent } from '../../model/intent.js';
import type { Band } from '../../model/recipe.js';
import type { Display } from '../../model/target.js';
import type { Fit, FitContext, FitOutcome, Shortcoming } from '../fit.js';
import { nearest } from '../nearest.js';
import { errorOf, place, placedFilter } from '../placement.js';
import type { Found } from './evaluate.js';
import { searchWithinLimit, type WithinLimit } from './keep-limit.js';
import { type Lattice, stepsAt } from './lattice.js';
import { highCutLattices, type Movers, moversOf, pilotCutLattices } from './movers.js';
import { slotClasses } from './slot-classes.js';

/** A point of a lattice and the intent it serves. */
interface Chosen {
  readonly role: string;
  readonly asked: Intent;
  readonly lattice: Lattice;
  readonly at: readonly [f: number, w: number, g: number];
}

const chosenOf = ({ highCut, cuts }: Found, movers: Movers): readonly Chosen[] => [
  ...(highCut.lattice && movers.highCut
    ? [{ role: movers.highCut.role, asked: movers.highCut, lattice: highCut.lattice, at: highCut.at }]
    : []),
  ...cuts.flatMap(({ lattice, f, w, g }, index) =>
    movers.pilotCut
      ? [
          {
            role: index === 0 ? movers.pilotCut.role : `${movers.pilotCut.role}-${index + 1}`,
            asked: movers.pilotCut,
            lattice,
            at: [f[0], w[0], g[0]] as const,
          },
        ]
      : [],
  ),
];

/** Gives each choice a slot of its class, in the order of the desk. */
const giveSlots = (
  chosen: readonly Chosen[],
  display: Display,
): readonly { readonly chosen: Chosen; readonly band: Band }[] => {
  const taken = new Set<DeskSlot>();
  return chosen.map((each) => {
    const { lattice, role, asked } = each;
    const slot = lattice.slotClass.slots.find((candidate) => !taken.has(candidate));
    if (!slot) throw new RangeError('a search gave out more slots than there are');
    taken.add(slot);
    const { set, steps } = place(asked, lattice.slotType, display, stepsAt(lattice, ...each.at));
    const { type } = lattice.slotType;
    return {
      chosen: each,
      band: { slot: slot.id, role, type, asked, set, steps, error: errorOf(type, asked, set) },
    };
  });
};

/** Knobs that cannot go where even a protective fit would want them. */
const telling: readonly string[] = ['frequency', 'gain'];

const shortcomingsOf = (
  { chosen, band }: { readonly chosen: Chosen; readonly band: Band },
  display: Display,
): readonly Shortcoming[] => {
  const { asked, lattice } = chosen;
  const knobs = place(asked, lattice.slotType, display, stepsAt(lattice, ...chosen.at)).beyond.filter(
    (knob) => telling.includes(knob),
  );
  const standsIn = band.type !== asked.type && !(asked.type === 'peaking' && band.type === 'notch');
  return [
    ...(standsIn ? [{ kind: 'stand-in', intent: asked, band } as const] : []),
    ...(knobs.length > 0 && !standsIn ? [{ kind: 'beyond-range', intent: asked, band, knobs } as const] : []),
  ];
};

const unprovedOf = ({ missedAtMostDb, found }: WithinLimit): Pick<FitOutcome, 'unproved'> => {
  const lattices = [found.highCut.lattice, ...found.cuts.map(({ lattice }) => lattice)];
  const thinned = lattices.some((lattice) => lattice?.thinned === true);
  return missedAtMostDb > 0.005 || thinned ? { unproved: { missedAtMostDb, thinned } } : {};
};

const fitProtective = (intents: readonly Intent[], context: FitContext): FitOutcome => {
  const { desk, slots, scope, spareSlots } = context;
  const plain = nearest.fit(intents, context);
  const movers = moversOf(intents);
  if (!scope || (!movers.highCut && !movers.pilotCut)) return plain;

  const moves = (intent: Intent): boolean => intent === movers.highCut || intent === movers.pilotCut;
  const fixed = plain.bands.filter(({ asked }) => !moves(asked));
  const classes = slotClasses(slots.filter(({ id }) => !fixed.some(({ slot }) => slot === id)));
  const problem = {
    highCuts: highCutLattices(movers, classes, scope.pilotHz),
    pilotCuts: pilotCutLattices(movers, classes, scope.pilotHz),
    fixed: fixed.map(({ type, set }) => placedFilter(type, set)),
    realisations: desk.target.realisations,
    scope,
    keepLossAtMostDb: scope.keepLossAtMostDb,
  };
  const within = searchWithinLimit(problem, 1 + spareSlots);
  if (!within) return plain;

  const { display } = desk.target;
  const given = giveSlots(chosenOf(within.found, movers), display);
  const order = new Map(slots.map(({ id }, index) => [id, index]));
  const bands = [...fixed, ...given.map(({ band }) => band)].sort(
    (a, b) => (order.get(a.slot) ?? 0) - (order.get(b.slot) ?? 0),
  );
  const unserved = intents.filter((intent) => moves(intent) && !bands.some(({ asked }) => asked === intent));
  const limiting = movers.pilotCut ?? movers.highCut;
  return {
    bands,
    shortcomings: [
      ...plain.shortcomings.filter(({ intent }) => !moves(intent)),
      ...unserved.map((intent) => ({ kind: 'no-place', intent, slotsFree: slots.length }) as const),
      ...given.flatMap((each) => shortcomingsOf(each, display)),
      ...(within.raisedToDb !== null && limiting
        ? [
            {
              kind: 'keep-limit',
              intent: limiting,
              askedDb: scope.keepLossAtMostDb,
              leastDb: within.raisedToDb,
            } as const,
          ]
        : []),
    ],
    ...unprovedOf(within),
  };
};

/**
 * The steps that attenuate the pilot most, whatever way the desk builds its filters, while the music keeps
 * within its limit and nothing rises: high cut and pilot cut move together, over all their slots, frequencies,
 * widths and gains; everything else is fitted by nearest. The choice is proved to be the best, or the outcome
 * says what is not (see `search.ts`).
 */
export const protect: Fit = {
  name: 'protect',
  summary: 'the steps that together attenuate the pilot most for the music they may cost',
  fit: fitProtective,
};
