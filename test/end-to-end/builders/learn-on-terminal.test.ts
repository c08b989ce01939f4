import { tmpdir } from 'node:os';
import { describe, expect, it } from 'vitest';
import { runLoaded } from '../run.js';
import { atTheKnob } from './at-the-knob.js';
import { hasTerminal, plainText, typeOnTerminal } from './on-terminal.js';
import { ctrlC, enter, oneLine } from './typing.js';

const cwd = tmpdir();

/** Values of 20 · 1000^(k / 200), worked out by hand with a pocket calculator's digits: 20 · 10^(3 · 199 / 200) = 19 320.9. */
const twoHundred = '20.00k top 19.32k .. 20.00 bottom .. 632.5 .. 20.00k top 20 clicks down 10.02k';

describe.skipIf(!hasTerminal)('learn KNOB on a terminal', () => {
  it('asks until the grid is settled, and tells it', async () => {
    const { exitCode, screen, keys } = await typeOnTerminal(['learn', 'frequency'], [], {
      cwd,
      whenever: atTheKnob,
    });
    const told = oneLine(plainText(screen));
    expect(exitCode, told).toBe(0);
    expect(told).toContain('SETTLED');
    expect(told).toContain('{"kind":"geometric","from":20,"to":20000,"count":241}');
    // A newcomer's fingers: some readings of four digits and Enter.
    expect(keys).toBeLessThan(80);
  });

  it('takes an answer back, and tells how to go on when it is ended', async () => {
    const { exitCode, screen } = await typeOnTerminal(
      ['learn', 'frequency'],
      [
        ['top stop', `20.00k${enter}`],
        [/1 click down: what/, `19k${enter}`],
        [/bottom stop/, `<${enter}`],
        [/1 click down: what/, `19.32k${enter}`],
        [/bottom stop/, ctrlC],
      ],
      { cwd },
    );
    expect(exitCode).toBe(130);
    expect(oneLine(plainText(screen))).toContain(
      "To go on from here: bandwright learn frequency --readings '20.00k top 1 click down 19.32k'",
    );
  });

  it('takes what is known where somebody has had enough', async () => {
    const { exitCode, screen } = await typeOnTerminal(
      ['learn', 'gain'],
      [
        ['bottom stop', `-15.0${enter}`],
        [/1 click up: what/, `-14.5${enter}`],
        [/top stop/, `15.0${enter}`],
        [/turn the gain|Turn the gain to about/, `?${enter}`],
        [/Enter\s+ends\s+with[\s\S]*the gain/, enter],
      ],
      { cwd },
    );
    expect(exitCode).toBe(1);
    expect(oneLine(plainText(screen))).toContain('{"kind":"linear","from":-15,"to":15,"step":0.5}');
  });
});

describe('learn KNOB from options', () => {
  it('tells the grid as JSON, with what it says of the pilot', async () => {
    const { stdout } = await runLoaded(['learn', 'frequency', '--readings', twoHundred, '--json']);
    const { candidates, readings } = JSON.parse(stdout.toString());
    expect(candidates[0].spec).toEqual({ kind: 'geometric', from: 20, to: 20000, count: 201 });
    const { below, at, above } = candidates[0].nextToPilot;
    // 20 · 10^(3 · 198 / 200) = 18 665.1 and 19 320.9: on 19 kHz there is none.
    expect([
      below.least < 18665.1,
      below.most > 18665.1,
      at,
      above.least < 19320.9,
      above.most > 19320.9,
    ]).toEqual([true, true, false, true, true]);
    expect(readings).toHaveLength(6);
  });

  it('names a reading that fits nothing', async () => {
    const slip = twoHundred.replace('19.32k', '19.23k 18.67k 18.03k');
    const { stdout, exitCode } = await runLoaded(['learn', 'frequency', '--readings', slip]);
    expect(exitCode).toBe(1);
    expect(stdout.toString()).toMatch(/19\.23k\s+FITS NOTHING, left out/);
    expect(stdout.toString()).toContain('"count":201');
  });

  it.each([
    ['no value', ['--readings', 'stop'], '--readings'],
    ['a word that is none', ['--readings', '20k x'], '"x"'],
    ['clicks before any value', ['--readings', '3 clicks 20k'], 'before the first value'],
    ['a number of steps that is none', ['--readings', '20k', '--steps', '1.5'], '--steps'],
    ['an option of the other way', ['--readings', '20k', '--to', '127.0.0.1'], '--to'],
    ['nobody to ask', [], 'Nobody can be asked here'],
  ])('refuses %s', async (_, options, told) => {
    const { stdout, stderr, exitCode } = await runLoaded(['learn', 'frequency', ...options]);
    expect([exitCode, stdout.toString()]).toEqual([2, '']);
    expect(oneLine(stderr)).toContain(told);
  });

  it('shows what was typed without what a terminal would obey', async () => {
    const { stdout, stderr } = await runLoaded(['learn', 'q', '--readings', '4.0 \u001b[31m5.0']);
    expect(`${stdout}${stderr}`).not.toContain('\u001b[31m');
  });
});
