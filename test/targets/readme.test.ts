import { describe, expect, it } from 'vitest';
import { readTarget } from '../../src/documents/read.js';
import { targetNotices } from '../../src/documents/rules/target/target.js';
import { designNames, qMeanings } from '../../src/filters/realisation.js';
import { deskNotices } from '../../src/model/desk-notices.js';
import { makeDesk } from '../../src/model/make-desk.js';
import type { OscRead, Target } from '../../src/model/target.js';
import { oscTransports } from '../../src/model/target.js';
import { askings } from '../../src/osc/asking.js';
import { encodings } from '../../src/osc/encodings/registry.js';
import { makeQuantiser, quantiserKinds } from '../../src/quantisers/registry.js';
import { makeAddressMap } from '../../src/standin/address-map.js';
import { step } from '../../src/units/quantity.js';
import { textOf } from './shipped.js';

/* What targets/README.md shows and says is taken from it and tried. */

const guide = textOf('README.md');

const example = /```json\n(\{[\s\S]*?\n\})\n```/.exec(guide)?.[1] ?? '';

/** Everything `targets lint` looks at. */
const linted = async (text: string) => {
  const read = readTarget(text, { source: 'example' });
  if (!read.ok) return read.error;
  const desk = makeDesk(read.value);
  if (!desk.ok) return desk.error;
  const map = makeAddressMap(desk.value);
  if (!map.ok) return map.error;
  return [...targetNotices.flatMap((rule) => rule.check(read.value)), ...deskNotices(desk.value)];
};

it('the example lints, with nothing to know about it', async () => {
  expect(await linted(example)).toEqual([]);
});

it('a fault in the example would be told', async () => {
  expect(await linted(example.replace('"type": "i" }', '"type": "x" }'))).not.toEqual([]);
  expect(await linted(example.replaceAll('/filter/{slot}/', '/filter/'))).not.toEqual([]);
});

const rows = [...guide.matchAll(/^\| [^|]+ \| `(\{[^`]*\})` +\| ([^|]+?) +\|$/gm)].map(
  ([, spec = '', begins = '']) => ({ spec: JSON.parse(spec), begins: begins.split(', ') }),
);

describe('kinds of grid', () => {
  it('each has a row', () => {
    expect(rows.map(({ spec }) => spec.kind)).toEqual(quantiserKinds.map(({ kind }) => kind));
  });

  // By hand; mid-bands by IEC 61260-1 (1000 · 10^(n/10) for thirds), rounded ones from ISO 3, R10.
  it.each(rows)('$spec.kind begins as it says', ({ spec, begins }) => {
    const made = makeQuantiser(spec);
    if (!made.ok) throw new RangeError(made.error);
    const digitsOf = (shown: string) => shown.replace(/[-.]/g, '').length;
    const found = begins.map((shown, index) => made.value.valueAt(step(index)).toPrecision(digitsOf(shown)));
    expect(found.map(Number)).toEqual(begins.map(Number));
  });
});

const reads: readonly OscRead[] = [...guide.matchAll(/^- `("[a-z-]+"|\{ "by": [^`]*\})`:/gm)].map(
  ([, read = '']) => JSON.parse(read),
);

describe('ways of asking', () => {
  it('each is told', () => {
    const names = reads.map((read) => (typeof read === 'string' ? read : read.by));
    expect(names).toEqual(askings.map(({ name }) => name));
  });

  it.each(reads)('%j stands in the example', async (read) => {
    const target: Target = JSON.parse(example);
    expect(await linted(JSON.stringify({ ...target, osc: { ...target.osc, read } }))).toEqual([]);
  });
});

it.each([...encodings.map(({ as }) => as), ...oscTransports, ...designNames, ...qMeanings])(
  '%s is told',
  (word) => {
    expect(guide).toContain(`\`${word}\``);
  },
);
