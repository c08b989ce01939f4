import type { FilterType } from '../../filters/filter.js';
import { type Knob, knobs } from '../../model/knob.js';
import type { Display } from '../../model/target.js';
import type { SlotParameter } from '../../osc/slot-parameters.js';
import { type CountFound, findFractionCount, findLastIndex, type Habits } from './find-count.js';
import { findTexts } from './find-texts.js';
import { findValues } from './find-values.js';
import type { GridLearned } from './found.js';
import type { Recognise, ValueKnob, ValuesFound } from './grids-left.js';
import { type KnobWire, knobWire } from './knob-wire.js';
import { follow, type KnobAnswer, type ProbedKnob, type Probing } from './probing.js';
import type { NoAnswer, SlotAtWork, Talk } from './talk.js';

/** What is sent to find the stops of a knob: further than desks go, and no further than needed. */
const beyondDesks: Readonly<Record<Knob, readonly [lowest: number, highest: number]>> = {
  frequency: [1, 200_000],
  q: [0.01, 500],
  bandwidth: [0.005, 50],
  gain: [-100, 40],
  slope: [0, 400],
};

/** Where a person cares most: next to the pilot. */
const nearPilotHz = 19_000;

export interface KnobTask {
  /** What the draft calls its grid. */
  readonly name: string;
  readonly knob: Knob;
  readonly type: FilterType | null;
  readonly slot: SlotAtWork;
  readonly parameter: SlotParameter;
  readonly display: Display;
  /** What other knobs of the same grid stand at, as they were found. */
  readonly seen: readonly number[];
  /** Whether no other slot has this grid. */
  readonly isAlone: boolean;
  readonly habits: Habits;
  readonly recognise: Recognise;
  readonly random: () => number;
}

/** Whether a number is a value of a knob: what is dialled in ratios never is 0 or less. */
export const isFit = (told: number, knob: Knob, { encoding: { as } }: SlotParameter): boolean =>
  as === 'index' || as === 'fraction' || knobs[knob].measure !== 'ratio' || told > 0;

/** How a knob is asked, one value after another; why it told nothing is kept. */
const asking = (
  { slot, knob, parameter }: KnobTask,
  wire: KnobWire,
  talk: Talk,
): { ask(value: number): Promise<KnobAnswer | null>; why(): NoAnswer | null } => {
  let why: NoAnswer | null = null;
  return {
    ask: async (value) => {
      const argument = Number.isFinite(value) ? wire.argumentOf(value) : null;
      if (argument === null) {
        why = 'unfit';
        return null;
      }
      const answer = await talk.write(slot, parameter, argument);
      if (answer.kind !== 'told') {
        why = answer.kind;
        return null;
      }
      const told = wire.valueOf(answer.read);
      if (told === null || !isFit(told, knob, parameter)) {
        why = 'unfit';
        return null;
      }
      return { value: told, moved: answer.moved };
    },
    why: () => why,
  };
};

const whyWords: Readonly<Record<NoAnswer, string>> = {
  silent: 'Nothing came back after it was written.',
  unfit:
    'What it reads is no value that such a knob can have by the draft: compare its encoding there with what the desk shows.',
  over: 'It was broken off.',
  heard: 'Its section is on, or goes on when it is turned.',
};

/** A desk that takes a text it does not show itself can be halved like any; another has to be tried text by text. */
function* findByText(
  knob: ValueKnob,
  habits: Habits,
  recognise: Recognise,
  random: () => number,
): Probing<ValuesFound> {
  if (habits.refusesTexts) return yield* findTexts(knob, recognise, random);
  const stray = [0.37, 0.61, 0.83].map((share) =>
    knob.asSent(knob.lowest + (knob.highest - knob.lowest) * share),
  );
  for (const value of stray) {
    const answer = yield value;
    if (answer.moved) return yield* findValues({ ...knob, standing: answer.value }, recognise, random);
  }
  const found = yield* findTexts(knob, recognise, random);
  habits.refusesTexts = found.open === null;
  return found;
}

const valueGrid = (found: ValuesFound): Partial<GridLearned> => {
  const [first, ...others] = found.open === null ? found.grids : [];
  // Where every value was seen, they are the grid, whatever rule they may follow.
  const seen = found.isWhole ? { kind: 'table', values: found.readings.readings.map(middleOf) } : null;
  return {
    spec: first?.spec ?? seen,
    count: first?.grid.count ?? (found.isWhole ? found.readings.readings.length : null),
    others: others.map(({ spec }) => spec),
    right: found.right,
    isWhole: found.isWhole,
    beyond: found.beyond,
    between: found.between,
    readings: found.readings.readings,
    open: found.open,
  };
};

const middleOf = ({ ifRounded: { least, most } }: ValuesFound['readings']['readings'][number]): number =>
  Number(((least + most) / 2).toPrecision(7));

const countGrid = ({ count, right, open }: CountFound): Partial<GridLearned> => ({ count, right, open });

/** Learns the grid of one knob, in a slot that is silent. */
export const learnKnob = async (task: KnobTask, talk: Talk): Promise<GridLearned | 'over' | 'heard'> => {
  const { name, knob, type, slot, parameter, display, seen, habits, recognise, random } = task;
  const wire = knobWire(knob, parameter, display);
  const sentBefore = talk.sent();
  const { ask, why } = asking(task, wire, talk);
  const { as } = parameter.encoding;
  const tells = as === 'index' || as === 'fraction' ? 'steps' : 'values';
  const learned = (rest: Partial<GridLearned>): GridLearned => ({
    name,
    knob,
    slot: slot.id,
    type,
    tells,
    spec: null,
    count: null,
    others: [],
    right: 0,
    isWhole: false,
    beyond: null,
    between: null,
    readings: [],
    open: null,
    ...rest,
    messages: talk.sent() - sentBefore,
  });
  const before = slot.stands.get(parameter.name);
  const read = before ? null : await talk.read(slot, parameter);
  if (read && read.kind !== 'told')
    return read.kind === 'over' ? 'over' : learned({ open: whyWords[read.kind] });
  const argument = before ?? (read?.kind === 'told' ? read.read : null);
  const standing = argument && wire.valueOf(argument);
  if (standing === null || !isFit(standing, knob, parameter)) return learned({ open: whyWords.unfit });
  const [lowest, highest] = beyondDesks[knob];
  const { measure } = knobs[knob];
  const probed: ProbedKnob = { measure, standing, lowest, highest, next: wire.next, asSent: wire.asSent };
  const valueKnob: ValueKnob = {
    ...probed,
    knob,
    seen,
    near: knob === 'frequency' ? nearPilotHz : null,
    told: wire.told,
    toldAsWhole: wire.toldAsWhole,
    isCoarse: as === 'text' || parameter.encoding.type === 'i' || parameter.encoding.type === 'h',
  };
  const found =
    as === 'index'
      ? await follow(findLastIndex(Math.max(standing, ...seen), habits, task.isAlone), ask)
      : as === 'fraction'
        ? await follow(findFractionCount({ ...probed, measure: 'difference' }, random), ask)
        : await follow(
            as === 'text'
              ? findByText(valueKnob, habits, recognise, random)
              : findValues(valueKnob, recognise, random),
            ask,
          );
  if (found === null) {
    const reason = why() ?? 'over';
    return reason === 'over' || reason === 'heard' ? reason : learned({ open: whyWords[reason] });
  }
  return learned('readings' in found ? valueGrid(found) : countGrid(found));
};
