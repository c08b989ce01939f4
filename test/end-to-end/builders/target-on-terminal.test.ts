import { describe, expect, it } from 'vitest';
import { filesUnder, scratchFolder } from '../run.js';
import { atTheKnob, shownAt } from './at-the-knob.js';
import { hasTerminal, plainText, type Typed, typeOnTerminal } from './on-terminal.js';
import { tryTarget } from './try-target.js';
import { ctrlC, down, enter, readJson } from './typing.js';

const upToGrids: readonly Typed[] = [
  ['desk called?', enter],
  ['How many outputs', `16${enter}`],
  ['stereo pair', enter],
  ['Which filters', `4 bells, a low cut and a high cut${enter}`],
  ['call these filters', enter],
];

const otherGrids: readonly Typed[] = [
  ['Width', `0.4 to 10 in 41 steps${enter}`],
  ['Gain', `0.5 from -15 to 15${enter}`],
  ['Frequency of the low cut', enter],
  ['Slope of the low cut', `12 24${enter}`],
  ['Frequency of the high cut', enter],
  ['Slope of the high cut', enter],
];

const withoutOsc: readonly Typed[] = [
  ['screen show values?', `8.00, -15.0 dB${enter}`],
  ['sample rate', `${down}${enter}`],
  ['OSC?', enter],
  ['Whose figures', enter],
];

describe.skipIf(!hasTerminal)('targets new, on a terminal', () => {
  it('describes a desk of four bands and two cuts from fewer than 540 keys, three minutes at three a second', async () => {
    const cwd = await scratchFolder();
    const script: readonly Typed[] = [
      ...upToGrids,
      ['Frequency of the bell', `${shownAt(240)} top ${shownAt(239)} ${shownAt(238)}${enter}`],
      ...otherGrids,
      ['screen show values?', `8.00, -15.0 dB${enter}`],
      ['sample rate', `${down}${enter}`],
      ['OSC?', `${down}${enter}`],
      ['which port', `52200${enter}`],
      ['address of the frequency', `/mix/03/filter/2/frequency${enter}`],
      ['What is what', enter],
      ['address of the Q', enter],
      ['address of the gain', enter],
      ['address of the slope', enter],
      ['address of the switch', enter],
      ['name of an output', `/mix/03/name${enter}`],
      ['the frequency travel', enter],
      ['the Q travel', enter],
      ['the gain travel', enter],
      ['the slope travel', enter],
      ['on and off travel', enter],
      ['asked for?', enter],
      ['Whose figures', `Read off the screen by me today${enter}`],
    ];
    const whenever = atTheKnob;
    const args = ['targets', 'new', 'our-desk.json'];
    const { exitCode, screen, keys } = await typeOnTerminal(args, script, { cwd, whenever });
    expect(exitCode, plainText(screen)).toBe(0);
    expect(keys).toBeLessThan(540);
    const target = await readJson(cwd, 'our-desk.json');
    expect(target.quantisers.frequency).toEqual({ kind: 'geometric', from: 20, to: 20000, count: 241 });
    expect(target.quantisers.gain).toEqual({ kind: 'linear', from: -15, to: 15, step: 0.5 });
    expect(target.slots.map(({ id }: { id: string }) => id)).toEqual(['1', '2', '3', '4', 'low', 'high']);
    expect(target.slots[5]).toEqual({
      id: 'high',
      types: { lowpass: { frequency: 'frequency', slope: 'slope' } },
    });
    expect(target.display).toEqual({
      frequency: { significantDigits: 4, kiloFromHz: 1000 },
      q: { decimals: 2 },
      gain: { decimals: 1 },
      slope: { decimals: 0 },
    });
    expect(target.osc).toEqual({
      transports: [{ kind: 'udp', port: 52200 }],
      addresses: {
        on: '/mix/{output:02}/filter/{slot}/on',
        frequency: '/mix/{output:02}/filter/{slot}/frequency',
        q: '/mix/{output:02}/filter/{slot}/q',
        gain: '/mix/{output:02}/filter/{slot}/gain',
        slope: '/mix/{output:02}/filter/{slot}/slope',
        outputName: '/mix/{output:02}/name',
      },
      encodings: {
        on: { as: 'index', type: 'i' },
        frequency: { as: 'engineering', type: 'f' },
        q: { as: 'engineering', type: 'f' },
        gain: { as: 'engineering', type: 'f' },
        slope: { as: 'engineering', type: 'f' },
      },
      read: 'same-address-without-arguments',
    });
    // Not every grid was read off the knob.
    expect(target.evidence).toEqual({ grid: 'untested', response: 'untested', push: 'untested' });
    expect(plainText(screen)).toContain('bandwright targets show ./our-desk.json');
    expect(await filesUnder(cwd)).toEqual(['our-desk.json']);
    await tryTarget(cwd, 'our-desk.json');
  });

  it('takes a grid for tried where every one was read off the desk and is settled', async () => {
    const cwd = await scratchFolder();
    const script: readonly Typed[] = [
      ...upToGrids.slice(0, 3),
      ['Which filters', `3 notches${enter}`],
      ['call these filters', `A B C${enter}`],
      ['Frequency of the notch', `${shownAt(240)} top ${shownAt(239)} ${shownAt(238)}${enter}`],
      ['Width', `8${enter}`],
      ...withoutOsc.map(
        ([shown, keys]): Typed => [shown, shown.toString().startsWith('screen') ? enter : keys],
      ),
    ];
    const args = ['targets', 'new', 'our-desk.json'];
    const { exitCode, screen } = await typeOnTerminal(args, script, { cwd, whenever: atTheKnob });
    expect(exitCode, plainText(screen)).toBe(0);
    const { evidence, slots, outputs } = await readJson(cwd, 'our-desk.json');
    expect(evidence).toEqual({ grid: 'tested', response: 'untested', push: 'untested' });
    expect(slots[2]).toEqual({ id: 'C', types: { notch: { frequency: 'frequency', q: 8 } } });
    expect(outputs).toEqual({ count: 16, stereo: 'legs-share' });
  });

  it('goes on where it stopped in the middle of reading, after SIGKILL, Ctrl-C and a terminal that is closed', async () => {
    const cwd = await scratchFolder();
    const args = ['targets', 'new', 'our-desk.json'];
    const reading: Typed = ['Frequency of the bell', `${shownAt(240)} top ${shownAt(239)}${enter}`];
    const killed = await typeOnTerminal(args, [...upToGrids, reading, ['bottom stop', '']], {
      cwd,
      signal: 'SIGKILL',
    });
    expect(killed.exitCode).toBe(137);
    const again: Typed = ['6 answers of an earlier time', enter];
    const hungUp = await typeOnTerminal(args, [again, ['bottom stop', '']], { cwd, signal: 'SIGHUP' });
    expect(hungUp.exitCode).toBe(130);
    const stopped = await typeOnTerminal(args, [again, ['bottom stop', ctrlC]], { cwd });
    expect(stopped.exitCode).toBe(130);
    expect(await filesUnder(cwd)).toEqual(['our-desk.json.draft']);
    const last = await typeOnTerminal(args, [again, ...otherGrids, ...withoutOsc], {
      cwd,
      whenever: atTheKnob,
    });
    expect(last.exitCode, plainText(last.screen)).toBe(0);
    expect((await readJson(cwd, 'our-desk.json')).quantisers.frequency.count).toBe(241);
    await tryTarget(cwd, 'our-desk.json');
  });

  it('tells wrong answers, and goes back', async () => {
    const cwd = await scratchFolder();
    const script: readonly Typed[] = [
      ['desk called?', enter],
      ['How many outputs', `many${enter}`],
      ['is not a whole number', `0${enter}`],
      ['is less than 1', `8${enter}`],
      ['stereo pair', `${down}${down}${enter}`],
      ['Which filters', `4 bands${enter}`],
      ['"bands" is no type of filter', `2 bells or high shelves${enter}`],
      ['call these filters', `A${enter}`],
      ['there are 2 filters', `A A${enter}`],
      ['is that of slots[0] already', enter],
      ['Frequency of the bell', `20 to 20000 in 100000000 steps${enter}`],
      ['count', `20 to 20000 in 201 steps${enter}`],
      ['Width', `<${enter}`],
      ['Frequency of the bell', `1/3 octave${enter}`],
      ['Width', `0.1 to 3 oct in 30 steps${enter}`],
      ['Q of the shelf', enter],
      ['Gain', `loud${enter}`],
      ['is not understood', `all -6 0 6${enter}`],
      ['screen show values?', enter],
      ['sample rate', `${down}${enter}`],
      ['OSC?', `${down}${enter}`],
      ['which port', `90000${enter}`],
      ['is no port', enter],
      ['address of the frequency', `/eq/freq${enter}`],
      ['holds nothing that could be', `/out/2/eq/1/freq${enter}`],
      ['What is what', `${down}${enter}`],
      ['address of the bandwidth', `/out/2/eq/1/width${enter}`],
      ['address of the gain', `<${enter}`],
      ['address of the bandwidth', `/eq/2/out/1/width${enter}`],
      ['address of the gain', `none${enter}`],
      ['has to reach every knob', enter],
      ['address of the switch', `none${enter}`],
      ['address of the type', enter],
      ['name of an output', enter],
      ['frequency travel', `${down}${down}${enter}`],
      ['bandwidth travel', enter],
      ['gain travel', enter],
      ['type of a filter travel', enter],
      ['count the types', `bell${enter}`],
      ['Slots offer highshelf', `bell, low cut, high shelf${enter}`],
      ['asked for?', `${down}${enter}`],
      ['Where is it asked for?', `/ask${enter}`],
      ['is no way to ask', `/ask{address}${enter}`],
      ['Whose figures', enter],
    ];
    const { exitCode, screen } = await typeOnTerminal(['targets', 'new', 'our-desk.json'], script, { cwd });
    expect(exitCode, plainText(screen)).toBe(0);
    const { quantisers, outputs, osc } = await readJson(cwd, 'our-desk.json');
    expect(outputs).toEqual({ count: 8, stereo: 'legs-separate' });
    expect(quantisers).toEqual({
      bandwidth: { kind: 'geometric', from: 0.1, to: 3, count: 30 },
      frequency: { kind: 'octave-fraction', from: 20, to: 20000, fraction: 3 },
      gain: { kind: 'table', values: [-6, 0, 6] },
    });
    expect(osc).toEqual({
      transports: [{ kind: 'udp' }],
      addresses: {
        type: '/out/{slot}/eq/{output}/type',
        frequency: '/out/{slot}/eq/{output}/freq',
        bandwidth: '/eq/{output}/out/{slot}/width',
        gain: '/out/{slot}/eq/{output}/gain',
      },
      encodings: {
        type: { as: 'index', type: 'i', order: ['peaking', 'highpass', 'highshelf'] },
        frequency: { as: 'index', type: 'i' },
        bandwidth: { as: 'index', type: 'i' },
        gain: { as: 'index', type: 'i' },
      },
      read: { by: 'address', address: '/ask{address}', answeredAt: 'written-address' },
    });
  });
});
