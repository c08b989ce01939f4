import { enter, oneLine } from './typing.js';

/** A desk of a newcomer: 241 frequencies of equal ratio from 20 Hz to 20 kHz, of which the screen shows four digits. */
const frequencyAt = (step: number): number => 20 * 1000 ** (step / 240);
/** What its screen shows there, zeros at the end left out. */
export const shownAt = (step: number): string => {
  const value = frequencyAt(step);
  return value < 1000 ? String(Number(value.toPrecision(4))) : `${Number((value / 1000).toPrecision(4))}k`;
};
const stepNear = (value: number): number =>
  Math.min(240, Math.max(0, Math.round(240 * (Math.log(value / 20) / Math.log(1000)))));

const inHz = (number: string, unit: string): number => Number(number) * (/^k/i.test(unit) ? 1000 : 1);

/** Turns the knob as it is told to, and types what the screen shows. */
export const atTheKnob = (shown: string): string | null => {
  if (!shown.includes('◆')) return null;
  const asked = oneLine(shown.split('◆').at(-1) ?? '');
  const stop = /Turn the frequency to its (top|bottom) stop/.exec(asked)?.[1];
  if (stop) return `${shownAt(stop === 'top' ? 240 : 0)}${enter}`;
  const [, about = '', unit = '', then, way] =
    /Turn the frequency to about ([\d.]+) (k?Hz): what does it show(?:, and (\d+) clicks? (up|down))?/.exec(
      asked,
    ) ?? [];
  if (about !== '') {
    const step = stepNear(inHz(about, unit));
    const second = then === undefined ? '' : ` ${shownAt(step + Number(then) * (way === 'up' ? 1 : -1))}`;
    return `${shownAt(step)}${second}${enter}`;
  }
  const [, from = '', kilo = '', clicks = '', turned] =
    /From ([\d.]+)(k?)\S*(?: k?Hz)?(?:, its \w+ stop,)? turn the frequency (\d+) clicks? (up|down): what/.exec(
      asked,
    ) ?? [];
  if (from === '') return null;
  return `${shownAt(stepNear(inHz(from, kilo)) + Number(clicks) * (turned === 'up' ? 1 : -1))}${enter}`;
};
