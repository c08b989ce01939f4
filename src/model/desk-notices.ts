import type { Quantiser } from '../quantisers/quantiser.js';
import { makeQuantiser } from '../quantisers/registry.js';
import { formatExact } from '../units/format.js';
import { step } from '../units/quantity.js';
import { inWords } from '../units/suggest.js';
import type { Desk } from './desk.js';
import { displayValue } from './display.js';
import { type Knob, knobNames, knobs } from './knob.js';
import { type Problem, pathTo, problem } from './problem.js';
import { unusualSteps } from './unusual-steps.js';

/** A knob that turns: its grid, the name of that in the target, and where the target first says so. */
interface TurningKnob {
  readonly knob: Knob;
  readonly name: string;
  readonly grid: Quantiser;
  readonly path: string;
}

/** Every knob on every grid it has; one place is enough where several share both. */
const turningKnobs = ({ target, slots }: Desk): readonly TurningKnob[] => {
  const found = new Map<string, TurningKnob>();
  target.slots.forEach(({ types }, at) => {
    for (const slotType of slots[at]?.types.values() ?? []) {
      for (const knob of knobNames) {
        const [name, grid] = [types[slotType.type]?.[knob], slotType.grids[knob]];
        if (typeof name !== 'string' || !grid || found.has(`${knob} ${name}`)) continue;
        found.set(`${knob} ${name}`, {
          knob,
          name,
          grid,
          path: `slots[${at}].types.${slotType.type}.${knob}`,
        });
      }
    }
  });
  return [...found.values()];
};

const knobWord = (knob: Knob): string => (knob === 'q' ? 'Q' : knob);

/** Steps looked at when a grid is compared with its own display; a finer grid is entered, not clicked. */
const stepsLookedAt = 5000;

/** The first step that shows the same as the one below it, where there is one. */
const stepsAlike = ({ knob, grid, path }: TurningKnob, { target }: Desk): readonly Problem[] => {
  if (grid.count > stepsLookedAt) return [];
  let before = '';
  for (let index = 0; index < grid.count; index++) {
    const shown = displayValue(knob, grid.valueAt(step(index)), target.display);
    if (shown === before) {
      const message = `Neighbouring steps both show ${shown}: count clicks there, or give display.${knob} more digits.`;
      return [problem('steps-look-alike', path, message)];
    }
    before = shown;
  }
  return [];
};

/** Knobs whose display the target does not tell, in one notice. Slopes are whole numbers, which are shown as they are. */
const displayNotTold = (turning: readonly TurningKnob[], { target }: Desk): readonly Problem[] => {
  const lacking = knobNames.flatMap((knob) => {
    const of = turning.find((each) => each.knob === knob && each.grid.count > 1);
    return of && knob !== 'slope' && target.display[knob] === undefined ? [of] : [];
  });
  if (lacking.length === 0) return [];
  const shown = lacking.map(({ knob, grid }) =>
    displayValue(knob, grid.valueAt(step(Math.floor(grid.count / 2))), target.display),
  );
  const names = lacking.map(({ knob }) => knobWord(knob));
  const places = lacking.map(({ knob }) => `display.${knob}`);
  const message = `How the desk shows ${inWords(names, 'and')} is not told: a recipe shows ${inWords(shown, 'and')}, and the desk may show other digits. Give ${inWords(places, 'and')} as the desk has it.`;
  return [problem('display-not-told', 'display', message)];
};

/** Kinds that step evenly by what they are; in others a value may be mistyped, or a rule is somebody else's. */
const evenKinds: readonly string[] = [
  'linear',
  'geometric',
  'ratio-steps',
  'octave-fraction',
  'preferred-numbers',
  'significant-digits',
  'continuous',
];

const timesWords = (times: number): string =>
  times > 1 ? `${Math.round(times)} times as large as` : `${Math.round(1 / times)} times smaller than`;

const stepsUnusual = ({ knob, name, grid }: TurningKnob, { target }: Desk): readonly Problem[] => {
  const kind = target.quantisers[name]?.kind ?? '';
  if (evenKinds.includes(kind)) return [];
  const found = unusualSteps(grid, knobs[knob].measure, kind === 'table');
  return found.map(({ place, from, to, times }) => {
    const [which, likely] =
      place === 'inner'
        ? ['One', times > 1 ? 'values that are missing' : 'a value too many']
        : [`The ${place}`, 'a stop that lies off the grid'];
    const message = `${which} step of the ${knobWord(knob)}, from ${formatExact(from)} to ${formatExact(to)}, is ${timesWords(times)} the steps beside it: a slip in typing, or ${likely}? Read these values off the desk again; where they are so, leave them.`;
    return problem('step-unusual', pathTo('quantisers', name), message);
  });
};

/** Whoever typed an end nearer to a value than this share of a step likely meant that value to be there. */
const nearlyReached = 0.1;

const shownDigits = 6;

/** A number of few digits that takes a value in as the end of a grid: the value rounded, or a little beyond it. */
const takesIn = (value: number, end: 'from' | 'to'): number => {
  const rounded = Number(value.toPrecision(shownDigits));
  const isEnough = end === 'to' ? rounded >= value : rounded <= value;
  const little = end === 'to' ? 1e-5 : -1e-5;
  return isEnough ? rounded : Number((value * (1 + little)).toPrecision(shownDigits));
};

/** Values that a grid leaves out by a little, since it ends at the last value within what was typed. */
const justLeftOut = (name: string, grid: Quantiser, { target }: Desk): readonly Problem[] => {
  const spec = target.quantisers[name];
  const last = grid.count - 1;
  if (spec === undefined || last < 1 || last > stepsLookedAt) return [];
  const valueAt = (index: number): number => grid.valueAt(step(index));
  const tell = (end: 'from' | 'to', extended: number, isOneMore: (wider: Quantiser) => number | null) => {
    const made = makeQuantiser({ ...spec, [end]: extended });
    const missed = made.ok && made.value.count === grid.count + 1 ? isOneMore(made.value) : null;
    if (missed === null) return [];
    const side = end === 'to' ? 'above' : 'below';
    const message = `The next value of this grid, ${formatExact(Number(missed.toPrecision(shownDigits)))}, lies just ${side} ${formatExact(Number(spec[end]))} and is left out. If the desk reaches it, write ${formatExact(takesIn(missed, end))}.`;
    return [problem('value-just-left-out', `${pathTo('quantisers', name)}.${end}`, message)];
  };
  const { from, to } = spec;
  const share = (nearlyReached * (valueAt(1) - valueAt(0))) / valueAt(1);
  return [
    ...(typeof from === 'number'
      ? tell('from', from * (1 - share), (wider) =>
          wider.valueAt(step(1)) === valueAt(0) ? wider.valueAt(step(0)) : null,
        )
      : []),
    ...(typeof to === 'number'
      ? tell('to', to + nearlyReached * (valueAt(last) - valueAt(last - 1)), (wider) =>
          wider.valueAt(step(last)) === valueAt(last) ? wider.valueAt(step(last + 1)) : null,
        )
      : []),
  ];
};

/** What may surprise whoever dials on a desk, though nothing is wrong. */
export const deskNotices = (desk: Desk): readonly Problem[] => {
  const turning = turningKnobs(desk);
  const grids = new Map(turning.map(({ name, grid }) => [name, grid]));
  return [
    ...displayNotTold(turning, desk),
    ...turning.flatMap((each) => [...stepsAlike(each, desk), ...stepsUnusual(each, desk)]),
    ...[...grids].flatMap(([name, grid]) => justLeftOut(name, grid, desk)),
  ];
};
