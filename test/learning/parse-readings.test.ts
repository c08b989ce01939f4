import { describe, expect, it } from 'vitest';
import { parseReadings } from '../../src/learning/parse-readings.js';
import type { Knob } from '../../src/model/knob.js';

const read = (text: string, knob: Knob = 'frequency', digits?: number) => {
  const parsed = parseReadings(text, knob, digits);
  if (!parsed.ok) throw new Error(parsed.error);
  return parsed.value.readings;
};

/** Where a value lies, to the thousandth of what its last digit is worth. */
const near = (value: number) => Number(value.toPrecision(7));

describe('readings as they are typed', () => {
  // As told to whoever types them; worked out by hand.
  it.each<[string, (number | null)[]]>([
    ['18.67k 19.32k 20.00k stop', [null, 1, 1]],
    ['20.00k stop 19.32k 18.67k', [null, -1, -1]],
    ['20.00k 40 clicks down 5.06k', [null, -40]],
    ['20.00k, 40 down, 5.06k', [null, -40]],
    ['20.00k 40 clicks 5.06k', [null, -40]],
    ['5.06k 40 up 20.00k', [null, 40]],
    ['20.0 .. 20.0k', [null, null]],
    ['20.0 \u2026 20.0k', [null, null]],
    ['20.0 bottom 20.00k top', [null, null]],
    ['100 100 101', [null, 1, 1]],
    ['19.32 kHz 20 kHz', [null, 1]],
  ])('%s: clicks', (text, clicks) => {
    expect(read(text).map(({ clicksUp }) => clicksUp)).toEqual(clicks);
  });

  it.each<[string, ('top' | 'bottom' | null)[]]>([
    ['18.67k 19.32k 20.00k stop', [null, null, 'top']],
    ['20 stop 21', ['bottom', null]],
    ['20 end .. 20k end', ['bottom', 'top']],
    ['20k TOP 19k', ['top', null]],
    ['100 bottom 101 102', ['bottom', null, null]],
  ])('%s: stops', (text, stops) => {
    expect(read(text).map(({ stop }) => stop)).toEqual(stops);
  });

  // Half a unit of the last digit to either side where it was rounded; a whole one upwards, away from zero, where it was cut.
  it.each<[string, Knob, [number, number], [number, number]]>([
    ['19.32k', 'frequency', [19_315, 19_325], [19_320, 19_330]],
    ['19320', 'frequency', [19_319.5, 19_320.5], [19_320, 19_321]],
    ['19k3', 'frequency', [19_250, 19_350], [19_300, 19_400]],
    ['-14.5', 'gain', [-14.55, -14.45], [-14.6, -14.5]],
    ['0.0', 'gain', [-0.05, 0.05], [-0.1, 0.1]],
    ['1.40', 'q', [1.395, 1.405], [1.4, 1.41]],
  ])('%s of a %s knob: where it lies', (text, knob, rounded, cut) => {
    const [reading] = read(text, knob);
    expect([reading?.ifRounded.least, reading?.ifRounded.most].map((each) => near(each ?? 0))).toEqual(
      rounded,
    );
    expect([reading?.ifCut.least, reading?.ifCut.most].map((each) => near(each ?? 0))).toEqual(cut);
  });

  it('has zeros completed that another value of its size shows', () => {
    expect(read('18.67k 20k').map(({ text }) => text)).toEqual(['18.67k', '20.00k']);
    expect(read('-14.5 0', 'gain').map(({ text }) => text)).toEqual(['-14.5', '0.0']);
    expect(read('20 19.3k').map(({ text }) => text)).toEqual(['20', '19.3k']);
    expect(read('20 20k', 'frequency', 3).map(({ text }) => text)).toEqual(['20.0', '20.0k']);
  });

  it('knows what was read twice', () => {
    expect(read('18.67k! 19.32k 20.00k ! stop').map(({ isSure }) => isSure)).toEqual([true, false, true]);
  });

  it('takes one click for granted only where nothing else was said', () => {
    const [, taken, said] = read('18.67k 19.32k 1 click up 20.00k');
    expect([taken?.isClickAssumed, said?.isClickAssumed]).toEqual([true, false]);
    expect([taken?.isWayAssumed, said?.isWayAssumed]).toEqual([true, false]);
  });

  it.each<[string, Knob, RegExp]>([
    ['', 'frequency', /there is no value/],
    ['40 clicks down 5.06k', 'frequency', /"40 clicks down" comes before the first value/],
    ['20k 40 clicks down', 'frequency', /after the last value stands how far it was turned/],
    ['20k .. 40 clicks down 5k', 'frequency', /says a second time/],
    ['20k nineteen', 'frequency', /nineteen/],
    ['0 20', 'frequency', /above zero/],
  ])('%s is refused, saying what is read', (text, knob, message) => {
    const parsed = parseReadings(text, knob);
    expect(parsed.ok ? '' : parsed.error).toMatch(message);
    expect(parsed.ok ? '' : parsed.error).toContain('one click apart');
  });
});
