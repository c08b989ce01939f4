import { expect, it } from 'vitest';
import { fitNames } from '../../src/fitting/fit.js';
import { defaultFitFor, fits } from '../../src/fitting/registry.js';

it('every fit is registered under its own name', () => {
  expect(fits.map(({ name }) => name)).toEqual(fitNames);
});

// As `bandwright recipe --help` says of --fit.
it('a rig and an intents file have one default each, that needs no guard where there is none', () => {
  expect(defaultFitFor('rig').name).toBe('protect');
  expect(defaultFitFor('intents').name).toBe('match');
  for (const document of ['rig', 'intents'] as const)
    expect(fits.filter(({ isDefaultFor }) => isDefaultFor.includes(document))).toHaveLength(1);
  expect(defaultFitFor('intents').needsGuard).toBe(false);
});
