import type { Desk } from '../../src/model/desk.js';
import type { OscArgument } from '../../src/osc/message.js';
import { hz } from '../../src/units/quantity.js';
import { shippedDesk } from './recipe-on.js';

/** Knobs without steps that tell hertz and decibels, its filters built the one way the W3C cookbook has. */
export const steplessDesk = (): Promise<Desk> =>
  shippedDesk('floats', (target) => ({
    ...target,
    realisations: [{ id: 'cookbook-48k', design: 'cookbook', qMeaning: 'cookbook', sampleRateHz: hz(48000) }],
  }));

export interface SlotAnswers {
  readonly on?: number;
  readonly type?: string;
  readonly frequency?: number;
  readonly q?: number;
  readonly gain?: number;
  readonly slope?: number;
}

/** A slot as nobody has touched it. */
const untouched = { on: 0, type: 'Bell', frequency: 1000, q: 1, gain: 0, slope: 12 };

/** What an output of that desk answers: its name, and its slots, off where nothing is told of them. */
export const answersOf = (
  output: number,
  name: string,
  slots: Readonly<Record<string, SlotAnswers>>,
): ReadonlyMap<string, OscArgument> => {
  const answers = new Map<string, OscArgument>([[`/mix/${output}/name`, { type: 's', value: name }]]);
  for (let slot = 1; slot <= 8; slot++) {
    const told = slots[slot];
    const values = { ...untouched, ...(told ? { on: 1 } : {}), ...told };
    for (const [parameter, value] of Object.entries(values)) {
      const argument: OscArgument =
        typeof value === 'string'
          ? { type: 's', value }
          : parameter === 'on'
            ? { type: 'i', value }
            : { type: 'f', value: Math.fround(value) };
      answers.set(`/mix/${output}/filter/${slot}/${parameter}`, argument);
    }
  }
  return answers;
};
