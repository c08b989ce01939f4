import { describe, expect, it } from 'vitest';
import { hz } from '../../src/units/quantity.js';
import { anySlots, demo, deskOf, fitted, manyOutputs } from '../browser/shows.js';

/** What a sheet of 24 mixes may take: the limit stated for it, no source. */
const mostBytes = 300_000;

describe('a sheet of 24 mixes', () => {
  it('stays small where no two are alike, on the shipped desk whose sheets are longest', async () => {
    // Each mix with a system of its own, so that settings, limits and assumptions are told 24 times.
    const systems = Object.fromEntries(
      Array.from({ length: 24 }, (_, index) => [
        `packs-${index + 1}`,
        { link: 'fm-stereo', audioLowHz: hz(40 + 2 * index), audioHighHz: hz(15000 - 60 * index) } as const,
      ]),
    );
    const mixes = Object.keys(systems).map((feeds, index) => ({
      name: `Juniper and Wren, stand ${index + 1}`,
      outputs: [2 * index + 1, 2 * index + 2],
      feeds,
    }));
    const rig = anySlots({ ...demo, systems, mixes }, 24);
    const { html } = fitted(rig, await deskOf('lr-24', manyOutputs));
    expect(html.match(/class="group"/g)).toHaveLength(24);
    expect(html.match(/<figure>/g)).toHaveLength(24);
    expect(Buffer.byteLength(html)).toBeLessThan(mostBytes);
  });
});
