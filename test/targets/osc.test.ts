import { describe, expect, it } from 'vitest';
import { displayValue } from '../../src/model/display.js';
import type { Osc, OscParameter, Target } from '../../src/model/target.js';
import { gridOf, offers, shipped, turningKnobs, valuesOf } from './shipped.js';

const reached = [...shipped.values()].flatMap((target) =>
  target.osc ? [{ ...target, osc: target.osc }] : [],
);

const addressedBy = (osc: Osc): readonly OscParameter[] =>
  (Object.keys(osc.addresses) as (keyof Osc['addresses'])[]).flatMap((name) =>
    name === 'outputName' ? [] : [name],
  );

const typesOf = (target: Target) => [...new Set(offers(target).map(({ type }) => type))].sort();

describe.each(reached)('OSC of $id', (target) => {
  const { addresses } = target.osc;
  const addressed = addressedBy(target.osc);

  it('reaches every knob that turns, every type that can be chosen, and the switch', () => {
    const needed = new Set<string>(turningKnobs(target).map(({ knob }) => knob));
    if (target.slots.some(({ types }) => Object.keys(types).length > 1)) needed.add('type');
    expect([...addressed].sort()).toEqual([...needed, 'on'].sort());
  });

  it('keeps to the neutral namespace, which tells outputs and slots apart', () => {
    for (const name of addressed) {
      expect(addresses[name]).toMatch(/^\/mix\/\{output\}\/filter\/\{slot\}\/[a-z]+$/);
    }
  });
});

/** Every knob that turns and travels, over all targets. */
const travelling = reached.flatMap((target) =>
  turningKnobs(target).flatMap(({ knob, reference }) => {
    const encoding = target.osc.encodings[knob];
    return encoding ? [{ target, knob, encoding, grid: gridOf(target, reference) }] : [];
  }),
);
const travellingAs = (as: string, type: string) => {
  const found = travelling.filter(({ encoding }) => encoding.as === as && encoding.type === type);
  expect(found).not.toEqual([]);
  return found;
};

it('gives every value an OSC type that can hold it', () => {
  const allowed = { index: 'ih', fraction: 'fd', engineering: 'ifdh', text: 's' };
  for (const { osc } of reached) {
    for (const encoding of Object.values(osc.encodings))
      expect(allowed[encoding.as]).toContain(encoding.type);
  }
});

it('sends as text only what the readout tells apart', () => {
  for (const { target, knob, grid } of travellingAs('text', 's')) {
    const shown = valuesOf(grid).map((value) => displayValue(knob, value, target.display));
    expect(new Set(shown).size).toBe(shown.length);
  }
});

it('sends as whole numbers only whole numbers', () => {
  for (const { grid } of travellingAs('engineering', 'i')) {
    expect(valuesOf(grid).filter((value) => !Number.isInteger(value))).toEqual([]);
  }
});

it('sends as a float fraction only as many steps as a float tells apart', () => {
  // IEEE 754 binary32: a significand of 24 bits.
  for (const { grid } of travellingAs('fraction', 'f')) expect(grid.count).toBeLessThanOrEqual(2 ** 24);
});

it('has a place in the order for every type sent as an index, a label for every one sent as text', () => {
  const byIndex = reached.filter(({ osc }) => osc.encodings.type?.as === 'index');
  const byText = reached.filter(({ osc }) => osc.encodings.type?.as === 'text');
  expect(byIndex.length * byText.length).toBeGreaterThan(0);
  for (const target of byIndex) {
    expect([...(target.osc.encodings.type?.order ?? [])].sort()).toEqual(typesOf(target));
  }
  for (const target of byText) {
    expect(Object.keys(target.display.typeLabels ?? {}).sort()).toEqual(typesOf(target));
  }
});
