import { describe, expect, it } from 'vitest';
import { tellShortcoming } from '../../src/recipes/tell-shortcoming.js';
import { hz } from '../../src/units/quantity.js';

describe('a filter that found no place', () => {
  const intent = { role: 'high-cut', type: 'lowpass', frequencyHz: hz(15_000) } as const;

  it.each([
    [0, 'No slot is free. It is left out.'],
    [1, 'The 1 free slot is taken by another filter, or cannot make the high cut, or a substitute for it, '],
    [2, 'Of the 2 free slots none that is left can make the high cut, or a substitute for it, '],
  ])('is told of %d free slots', (slotsFree, told) => {
    const { code, path, message } = tellShortcoming(
      { kind: 'no-place', intent, slotsFree },
      'mixes[0]',
      null,
    );
    expect([code, path]).toEqual(['no-place', 'mixes[0]']);
    expect(message).toContain(`Asked: high cut at 15 kHz. ${told}`);
  });
});
