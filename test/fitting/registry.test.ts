import { expect, it } from 'vitest';
import { fitNames } from '../../src/fitting/fit.js';
import { fits } from '../../src/fitting/registry.js';

it('every fit is registered under its own name', () => {
  expect(fits.map(({ name }) => name)).toEqual(fitNames);
});
