import type { FilterType } from '../../filters/filter.js';
import type { Desk, DeskSlot } from '../../model/desk.js';
import { displayValue } from '../../model/display.js';
import { type Knob, knobNames } from '../../model/knob.js';
import type { Target } from '../../model/target.js';
import { typeWords } from '../../model/words.js';
import { step } from '../../units/quantity.js';
import { tableLines } from '../table.js';
import { wrap } from '../wrap.js';

const widest = 80;

/** A knob's grid in short: `20.00 Hz to 20.00 kHz in 201`, or its one value. */
const gridCell = (slot: DeskSlot, type: FilterType, knob: Knob, { display }: Target): string => {
  const grid = slot.types.get(type)?.grids[knob];
  if (!grid) return '';
  const bottom = displayValue(knob, grid.valueAt(step(0)), display);
  if (grid.count === 1) return bottom;
  return `${bottom} to ${displayValue(knob, grid.valueAt(step(grid.count - 1)), display)} in ${grid.count}`;
};

const slotRows = (desk: Desk, knobs: readonly Knob[]): readonly (readonly string[])[] =>
  desk.slots.flatMap((slot) =>
    [...slot.types.keys()].map((type, index) => [
      index === 0 ? `  ${slot.id}` : '',
      typeWords[type],
      ...knobs.map((knob) => gridCell(slot, type, knob, desk.target)),
    ]),
  );

/** Slots that offer the very same are told once: `1, 2, 3, 4`. */
const mergedRows = (desk: Desk, knobs: readonly Knob[]): readonly (readonly string[])[] => {
  const groups = new Map<string, { ids: string[]; rows: readonly (readonly string[])[] }>();
  for (const slot of desk.slots) {
    const rows = slotRows({ ...desk, slots: [slot] }, knobs);
    const key = JSON.stringify(rows.map(([, ...cells]) => cells));
    const group = groups.get(key);
    if (group) group.ids.push(slot.id);
    else groups.set(key, { ids: [slot.id], rows });
  }
  return [...groups.values()].flatMap(({ ids, rows }) =>
    rows.map(([, ...cells], index) => [index === 0 ? `  ${ids.join(', ')}` : '', ...cells]),
  );
};

const stereoWords = {
  'legs-share': 'the two outputs of a pair share one set of filters',
  'legs-separate': 'each output of a pair is dialled by itself',
} as const;

/** One target for people. */
export const showLines = (desk: Desk): readonly string[] => {
  const { target } = desk;
  const used = knobNames.filter((knob) =>
    desk.slots.some(({ types }) => [...types.values()].some(({ grids }) => grids[knob] !== undefined)),
  );
  return [
    `${target.id}: ${target.title}`,
    '',
    ...wrap(target.provenance, widest),
    '',
    `Outputs: ${target.outputs.count}; ${stereoWords[target.outputs.stereo]}.`,
    `Tried on the real thing: grid ${target.evidence.grid}, response ${target.evidence.response}, push ${target.evidence.push}.`,
    '',
    ...tableLines([['  slot', 'can be', ...used], ...mergedRows(desk, used)]),
    '',
    'It may build its filters in any of these ways:',
    ...tableLines(
      target.realisations.map(({ id, design, qMeaning, sampleRateHz }) => [
        `  ${id}`,
        `design ${design}`,
        `Q meant as ${qMeaning}`,
        sampleRateHz === null ? 'no sampling' : `at ${sampleRateHz / 1000} kHz`,
      ]),
    ),
    ...(target.osc
      ? [
          '',
          'OSC addresses:',
          ...Object.entries(target.osc.addresses).map(([name, address]) => `  ${name}  ${address}`),
        ]
      : ['', 'OSC: not reachable.']),
  ];
};
