import { describe, expect, it } from 'vitest';
import { runLoaded } from './run.js';

const check = async (...args: readonly string[]) => {
  const { stdout, stderr, exitCode } = await runLoaded(['check', ...args]);
  return { stdout: stdout.toString(), stderr: stderr.replace(/\s+/g, ' '), exitCode };
};

/**
 * How much a bell takes at a frequency, in dB: the analogue prototype of the W3C Audio EQ Cookbook (Note, 2021),
 * H(s) = (s^2 + s A/Q + 1) / (s^2 + s/(A Q) + 1), A = 10^(gain/40), s = j f/f0.
 */
const bellDb = (
  frequencyHz: number,
  { centreHz, q, gainDb }: { centreHz: number; q: number; gainDb: number },
) => {
  const a = 10 ** (gainDb / 40);
  const w = frequencyHz / centreHz;
  const power = (side: number) => (1 - w * w) ** 2 + (w * side) ** 2;
  return 10 * Math.log10(power(a / q) / power(1 / (a * q)));
};

describe('check, of values that were typed', () => {
  it('tells how far the nearest lies from the pilot, and what a bell there takes', async () => {
    const typed = ['--frequencies', '18.67k 19.32k', '--q', '0.4..12', '--gain', '-15'];
    const { stdout, exitCode } = await check(...typed);
    // By hand: 18670 - 19000, and 1200 log2 of their ratio.
    expect(stdout).toMatch(/below {2}18\.670 kHz {2}-330\.0 Hz {2}-30\.3 cents/);
    expect(stdout).toMatch(/above {2}19\.320 kHz {2}\+320\.0 Hz {2}\+28\.9 cents/);
    expect(stdout).toMatch(/narrowest {2}bell at 19\.32 kHz, Q 12, -15 dB/);
    // The least over the window of 100 Hz to either side is at its lower end.
    const least = -bellDb(18900, { centreHz: 19320, q: 12, gainDb: -15 });
    expect(stdout).toMatch(new RegExp(`^ {2}analogue +\\S+ +${least.toFixed(1)}$`, 'm'));
    expect(exitCode).toBe(0);
  });

  it.each([
    ['18670, 19320 Hz', 2],
    ['18.67 kHz 19.32 kHz', 2],
    ['19k32', 1],
    ['19.32k;19320', 1],
  ])('reads a list as people write it: %s', async (list, count) => {
    const { stdout } = await check('--frequencies', list, '--json');
    const [target] = JSON.parse(stdout).targets;
    const near = [target.reach.below, target.reach.at, target.reach.above].filter((each) => each !== null);
    expect(near).toHaveLength(count);
    expect(target.reach.above.frequencyHz).toBe(19320);
  });

  it.each([
    [['--frequencies', '18.67k, much'], /"much" holds no number/],
    [['--frequencies', '30k'], /30 kHz is beyond what a desk at 48 kHz can build/],
    [['--frequencies', '19k', '--q', '5..2'], /goes from nowhere up/],
    [['--frequencies', '19k', '--gain', '-200'], /--gain: .*from -120 to 60/],
    [['--q', '3'], /It goes with --frequencies/],
    [['--gain', '-3'], /It goes with --frequencies/],
    [['--frequencies', '19k', '--target', 'r40'], /cannot be used with option/],
  ])('refuses %j', async (args, says) => {
    const { stderr, exitCode } = await check(...args);
    expect(stderr).toMatch(says);
    expect(exitCode).toBe(2);
  });
});
