import { describe, expect, it } from 'vitest';
import { exporterNames } from '../../src/exporters/names.js';
import { exporters } from '../../src/exporters/registry.js';
import { contentOf, hostileRecipe } from './export.js';
import { recipe } from './fixture.js';
import { target } from './fixture-target.js';

/** The same data as other objects, every key the other way round. */
const reversedKeys = (value: unknown): unknown => {
  if (Array.isArray(value)) return value.map(reversedKeys);
  if (typeof value !== 'object' || value === null) return value;
  return Object.fromEntries(
    Object.entries(value)
      .reverse()
      .map(([key, inner]) => [key, reversedKeys(inner)]),
  );
};

it('every exporter is registered under its own name', () => {
  expect(exporters.map(({ name }) => name)).toEqual(exporterNames);
});

it('no two exporters share a name or a file', () => {
  expect(new Set(exporters.map(({ name }) => name)).size).toBe(exporters.length);
  expect(new Set(exporters.map(({ fileName }) => fileName)).size).toBe(exporters.length);
});

describe.each(exporters)('$name', (exporter) => {
  it('gives the same bytes for the same recipe, whatever the order of its keys', async () => {
    const first = await contentOf(exporter);
    const second = await contentOf(
      exporter,
      reversedKeys(recipe) as typeof recipe,
      reversedKeys(target) as typeof target,
    );
    expect(second).toEqual(first);
  });

  it('names its file plainly', () => {
    expect(exporter.fileName).toMatch(/^recipe[a-z-]*\.[a-z]+$/);
  });

  it('leaves nothing from outside that a terminal would obey', async () => {
    const outcome = exporter.content(hostileRecipe, { target });
    // OSC has no slot of such a name and XML no way to write it; their problems go through the same hands.
    const shown = outcome.ok ? String(outcome.value) : outcome.error.map(({ message }) => message).join('\n');
    expect(shown.replace(/\r?\n/g, '')).not.toMatch(/[\p{Cc}\u2028\u2029\u202a-\u202e\u2066-\u2069]/u);
  });
});
