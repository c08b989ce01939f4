import { describe, expect, it } from 'vitest';
import { runLoaded } from './run.js';

const show = async (...args: readonly string[]) => {
  const { stdout, stderr, exitCode } = await runLoaded(['targets', 'show', ...args]);
  return { stdout: stdout.toString(), stderr: stderr.replace(/\s+/g, ' '), exitCode };
};

interface Told {
  readonly grids: readonly {
    readonly slots: readonly string[];
    readonly count: number;
    readonly values: readonly {
      readonly value: number;
      readonly fromBottom: number;
      readonly fromTop: number;
    }[];
  }[];
}

describe('targets show, of one knob', () => {
  it('tells every value, those of ISO 3 where a knob has them', async () => {
    const { stdout } = await show('r40', '--knob', 'frequency', '--json');
    const [grid] = (JSON.parse(stdout) as Told).grids;
    // ISO 3:1973, table 1, series R40, from 10 to 20, a thousandfold.
    const published = [
      10000, 10600, 11200, 11800, 12500, 13200, 14000, 15000, 16000, 17000, 18000, 19000, 20000,
    ];
    const values = grid?.values.map(({ value }) => value) ?? [];
    expect(values.filter((value) => value >= 10000 && value <= 20000)).toEqual(published);
    expect(
      grid?.values.every(({ fromBottom, fromTop }) => fromBottom + fromTop === (grid.count ?? 0) - 1),
    ).toBe(true);
  });

  it('tells those round one, as the desk shows them and in clicks', async () => {
    const { stdout, exitCode } = await show('log-179', '--knob', 'frequency', '--around', '19k');
    // 26 Hz times (21700 / 26) to the n 178ths: step 174 by hand.
    expect(stdout).toMatch(/^ {2}18\.66 kHz {2}18655\.5\d+ {2}174 +4$/m);
    expect(stdout.trimEnd().split('\n')).toHaveLength(13);
    expect(exitCode).toBe(0);
  });

  it('tells what is fixed in one line', async () => {
    const { stdout } = await show('graphic-31', '--knob', 'frequency');
    expect(stdout.split('\n').slice(0, 2)).toEqual([
      'slot 20, bell: 20.0 Hz, fixed',
      'slot 25, bell: 25.0 Hz, fixed',
    ]);
  });

  it.each([
    [['floats', '--knob', 'gain'], /more than anybody reads: add --around/],
    [['r40', '--around', '19k'], /add --knob and which one/],
    [['r40', '--knob', 'gain', '--around', 'loud'], /a gain is in dB/],
    [['graphic-31', '--knob', 'slope'], /No slot of "graphic-31" has a knob slope/],
  ])('refuses %j', async (args, says) => {
    const { stderr, exitCode } = await show(...args);
    expect(stderr).toMatch(says);
    expect(exitCode).toBe(2);
  });
});
