import { describe, expect, it } from 'vitest';
import { targetNotices } from '../../src/documents/rules/target/target.js';
import { writeXml } from '../../src/documents/write-xml.js';
import { deskNotices } from '../../src/model/desk-notices.js';
import { displayValue } from '../../src/model/display.js';
import { makeDesk } from '../../src/model/make-desk.js';
import {
  bottomOf,
  gridOf,
  isWalkable,
  offers,
  readShipped,
  shipped,
  shippedFiles,
  textOf,
  topOf,
  turningKnobs,
  valuesOf,
} from './shipped.js';

/** Knobs whose readout hides steps, which their target's provenance owns up to. */
const hiddenSteps: Readonly<Record<string, RegExp>> = {
  'octave-24 frequency': /neighbouring frequencies look alike/,
};

/** Targets with one way of building filters, which their provenance owns up to. */
const oneWay: Readonly<Record<string, RegExp>> = {
  'rate-96': /one known way of building the filters/,
};

it('ships 14 to 18 targets, as JSON or XML', () => {
  expect(shippedFiles.length).toBeGreaterThanOrEqual(14);
  expect(shippedFiles.length).toBeLessThanOrEqual(18);
  expect(shippedFiles.filter((file) => !/^[a-z][a-z0-9-]*\.(json|xml)$/.test(file))).toEqual([]);
  expect(shippedFiles.some((file) => file.endsWith('.xml'))).toBe(true);
});

it.each(shippedFiles)('%s is read without a problem: it keeps the schema and every rule', async (file) => {
  const read = await readShipped(file);
  expect(read.ok ? [] : read.error).toEqual([]);
});

it('keeps its XML as the program itself would write it', async () => {
  const [file] = shippedFiles.filter((each) => each.endsWith('.xml'));
  const target = shipped.get(file ?? '');
  expect(target && writeXml(target)).toBe(textOf(file ?? ''));
});

describe.each([...shipped])('%s', (file, target) => {
  it('gives no cause for a notice but what its provenance owns up to', () => {
    const desk = makeDesk(target);
    if (!desk.ok) throw new Error(JSON.stringify(desk.error));
    const notices = [...targetNotices.flatMap((rule) => rule.check(target)), ...deskNotices(desk.value)];
    const owned = oneWay[target.id] ?? hiddenSteps[`${target.id} frequency`];
    if (owned) expect(target.provenance).toMatch(owned);
    const codes = [
      ...(oneWay[target.id] ? ['one-realisation'] : []),
      ...(hiddenSteps[`${target.id} frequency`] ? ['steps-look-alike'] : []),
    ];
    expect(notices.map(({ code }) => code)).toEqual(codes);
  });

  it('has its id for a file name', () => {
    expect(target.id).toBe(file.replace(/\.(json|xml)$/, ''));
  });

  it('says that it is invented, and what its awkward trait is', () => {
    expect(target.provenance).toMatch(/^An invented archetype, no product: .+ Its awkward traits?: .+\.$/);
    expect(target.evidence).toEqual({ grid: 'untested', response: 'untested', push: 'untested' });
  });

  it('is of a size that stands in real venues', () => {
    expect(target.outputs.count).toBeGreaterThanOrEqual(8);
    expect(target.outputs.count).toBeLessThanOrEqual(64);
  });

  it('makes a desk: every grid is described, known and buildable', () => {
    const made = makeDesk(target);
    expect(made.ok ? [] : made.error).toEqual([]);
  });

  it('keeps every frequency below half of every sample rate', () => {
    const slowest = Math.min(...target.realisations.map(({ sampleRateHz }) => sampleRateHz ?? Infinity));
    const tops = offers(target).map(({ knobs }) => topOf(gridOf(target, knobs.frequency)));
    expect(Math.max(...tops)).toBeLessThan(slowest / 2);
  });

  it('has a gain of exactly nothing', () => {
    for (const { knob, reference } of turningKnobs(target)) {
      const grid = gridOf(target, reference);
      if (knob !== 'gain') continue;
      if (!isWalkable(grid)) expect(bottomOf(grid) < 0 && topOf(grid) > 0).toBe(true);
      else expect(valuesOf(grid)).toContain(0);
    }
  });

  it('shows neighbouring steps differently, or says that it does not', () => {
    for (const { knob, reference } of turningKnobs(target)) {
      const grid = gridOf(target, reference);
      if (!isWalkable(grid)) continue;
      const shown = valuesOf(grid).map((value) => displayValue(knob, value, target.display));
      const alike = shown.filter((text, index) => text === shown[index + 1]);
      const owned = hiddenSteps[`${target.id} ${knob}`];
      if (owned) {
        expect(alike).not.toEqual([]);
        expect(target.provenance).toMatch(owned);
      } else {
        expect(alike, `${knob} on ${reference}`).toEqual([]);
      }
    }
  });
});
