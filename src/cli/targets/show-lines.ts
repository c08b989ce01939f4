import type { FilterType } from '../../filters/filter.js';
import { wrap } from '../../layout/hang.js';
import { tableLines } from '../../layout/table.js';
import type { Desk, DeskSlot } from '../../model/desk.js';
import { displayValue } from '../../model/display.js';
import { type Knob, knobNames } from '../../model/knob.js';
import { pairsText } from '../../model/pairs.js';
import type { Target } from '../../model/target.js';
import { typeWords } from '../../model/words.js';
import { askingWords } from '../../osc/asking.js';
import { step } from '../../units/quantity.js';

const widest = 80;

/** A knob's grid in short: `26.00 Hz to 21.70 kHz in 179`, or its one value. */
const gridCell = (slot: DeskSlot, type: FilterType, knob: Knob, { display }: Target): string => {
  const grid = slot.types.get(type)?.grids[knob];
  if (!grid) return '';
  const bottom = displayValue(knob, grid.valueAt(step(0)), display);
  if (grid.count === 1) return bottom;
  return `${bottom} to ${displayValue(knob, grid.valueAt(step(grid.count - 1)), display)} in ${grid.count}`;
};

/** What a slot can be, a block of lines a type, without the slot's own name. */
const typeLines = (slot: DeskSlot, target: Target): readonly string[] => {
  const rows = [...slot.types.keys()].flatMap((type) =>
    knobNames
      .filter((knob) => slot.types.get(type)?.grids[knob])
      .map((knob, index) => [
        index === 0 ? `    ${typeWords[type]}` : '',
        knob === 'q' ? 'Q' : knob,
        gridCell(slot, type, knob, target),
      ]),
  );
  return tableLines(rows);
};

/** Slots that offer the very same are told once: `slots 1, 2, 3, 4`. */
const slotLines = ({ slots, target }: Desk): readonly string[] => {
  const idsByOffer = new Map<string, string[]>();
  for (const slot of slots) {
    const offer = typeLines(slot, target).join('\n');
    idsByOffer.set(offer, [...(idsByOffer.get(offer) ?? []), slot.id]);
  }
  return [...idsByOffer].flatMap(([offer, ids]) => [
    ...wrap(`${ids.length === 1 ? 'slot' : 'slots'} ${ids.join(', ')}`, widest - 2).map(
      (line) => `  ${line}`,
    ),
    offer,
  ]);
};

const stereoWords = {
  'legs-share': 'the two outputs of a pair share one set of filters',
  'legs-separate': 'each output of a pair is dialled by itself',
} as const;

/** One target for people. */
export const showLines = (desk: Desk): readonly string[] => {
  const { target } = desk;
  return [
    `${target.id}: ${target.title}`,
    '',
    ...wrap(target.provenance, widest),
    '',
    `Outputs: ${target.outputs.count}; ${stereoWords[target.outputs.stereo]}.`,
    ...(target.outputs.stereo === 'legs-share' ? wrap(`Pairs: ${pairsText(target.outputs)}.`, widest) : []),
    `Tried on the real thing: grid ${target.evidence.grid}, response ${target.evidence.response}, push ${target.evidence.push}.`,
    '',
    'Each output has:',
    ...slotLines(desk),
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
          ...tableLines(
            Object.entries(target.osc.addresses).map(([name, address]) => [`  ${name}`, address]),
          ),
          '',
          ...wrap(`Reading: ${askingWords(target.osc)}.`, widest),
        ]
      : ['', 'OSC: not told.']),
  ];
};
