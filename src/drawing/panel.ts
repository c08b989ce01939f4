import { ticks } from 'd3-array';
import { type ScaleContinuousNumeric, scaleLinear, scaleLog } from 'd3-scale';
import { type Attributes, type Child, type Element, element } from './markup.js';
import { fillIn, strokeIn } from './palette.js';
import type { Spot } from './paths.js';

/** How high a picture's words are: on a phone, where a card leaves it 310 pixels of its 360 units, close to 11 of them. */
export const textUnits = 12.5;

/** A value from one side of a panel to the other. */
export type PanelScale = ScaleContinuousNumeric<number, number>;

/** A rectangle of a picture in which something is plotted. */
export interface Panel {
  readonly left: number;
  readonly top: number;
  readonly width: number;
  readonly height: number;
  readonly x: PanelScale;
  readonly y: PanelScale;
}

/** What a panel shows, from one end to the other. */
export interface PanelSpan {
  readonly x: readonly [from: number, to: number];
  readonly y: readonly [bottom: number, top: number];
  readonly xIs: 'logarithmic' | 'linear';
}

/** A panel at a place of a picture. */
export const makePanel = (
  { left, top, width, height }: Pick<Panel, 'left' | 'top' | 'width' | 'height'>,
  { x, y, xIs }: PanelSpan,
): Panel => ({
  left,
  top,
  width,
  height,
  x: (xIs === 'logarithmic' ? scaleLog() : scaleLinear()).domain(x).range([left, left + width]),
  y: scaleLinear()
    .domain(y)
    .range([top + height, top]),
});

/** A number of the picture's units, to a tenth. */
export const units = (value: number): number => Number(value.toFixed(1)) + 0;

/** A word of a picture, in the colour that the picture has. */
export const label = (
  text: string,
  [x, y]: Spot,
  more: Attributes & { readonly anchor?: 'start' | 'middle' | 'end' } = {},
): Element => {
  const { anchor, ...attributes } = more;
  return element('text', { x: units(x), y: units(y), 'text-anchor': anchor, ...attributes }, text);
};

/** A straight line. */
export const straight = ([x1, y1]: Spot, [x2, y2]: Spot, attributes: Attributes): Element =>
  element('path', { d: `M${units(x1)},${units(y1)}L${units(x2)},${units(y2)}`, ...attributes });

/** Upright lines at values of x, as one path. */
const uprights = ({ x, top, height }: Panel, values: readonly number[], attributes: Attributes): Element =>
  element('path', {
    d: values.map((value) => `M${units(x(value))},${units(top)}v${units(height)}`).join(''),
    ...attributes,
  });

const levels = ({ y, left, width }: Panel, values: readonly number[], attributes: Attributes): Element =>
  element('path', {
    d: values.map((value) => `M${units(left)},${units(y(value))}h${units(width)}`).join(''),
    ...attributes,
  });

/** The ticks of an axis: values, and what stands at them. */
export interface AxisTicks {
  readonly values: readonly number[];
  readonly labelled: readonly number[];
  text(value: number): string;
}

const kilohertz = (frequencyHz: number): string =>
  frequencyHz < 1000 ? String(frequencyHz) : `${Number((frequencyHz / 1000).toPrecision(3))}k`;

/** The ticks of frequency over decades: each whole multiple, with 1, 2 and 5 told. */
export const decadeTicks = ({ x }: Panel): AxisTicks => {
  const values = x.ticks();
  return {
    values,
    labelled: values.filter((value) => /^[125]/.test(String(value))),
    text: kilohertz,
  };
};

/** Round ticks, about so many. */
export const roundTicks = (
  [from, to]: readonly [number, number],
  about: number,
  text: (value: number) => string = String,
): AxisTicks => {
  const values = ticks(from, to, about);
  return { values, labelled: values, text };
};

/** How many numbers of kilohertz have room beside each other. */
const mostKilohertz = 9;

/** Ticks of frequency a kilohertz apart or so, as the close look has them. */
export const kilohertzTicks = ({ x }: Panel): AxisTicks => {
  const [from = 0, to = 0] = x.domain();
  const values = ticks(from, to, Math.min(16, (to - from) / 1000));
  const told = values.length > mostKilohertz ? 2 : 1;
  return {
    values,
    labelled: values.filter((value) => Math.round(value / 1000) % told === 0),
    text: kilohertz,
  };
};

/** The grid of a panel with its numbers: behind everything else. */
export const axes = (panel: Panel, across: AxisTicks, up: AxisTicks): readonly Element[] => {
  const { x, y, left, top, height } = panel;
  const bottom = top + height;
  return [
    element(
      'g',
      { fill: 'none', 'stroke-width': 0.7, ...strokeIn('grid') },
      uprights(panel, across.values, {}),
      levels(panel, up.values, {}),
    ),
    element(
      'g',
      { 'text-anchor': 'middle' },
      across.labelled.map((value) => label(across.text(value), [x(value), bottom + textUnits + 4])),
    ),
    element(
      'g',
      { 'text-anchor': 'end' },
      up.labelled.map((value) => label(up.text(value), [left - 4, y(value) + textUnits / 3])),
    ),
  ];
};

/** What is drawn in a panel, cut off at its edges. */
export const within = ({ left, top, width, height }: Panel, children: readonly Child[]): Element =>
  element(
    'svg',
    {
      x: units(left),
      y: units(top),
      width: units(width),
      height: units(height),
      viewBox: [left, top, width, height].map(units).join(' '),
    },
    children,
  );

/** The edge of a panel, over what is drawn in it. */
export const edge = ({ left, top, width, height }: Panel): Element =>
  element('rect', {
    x: units(left),
    y: units(top),
    width: units(width),
    height: units(height),
    fill: 'none',
    'stroke-width': 0.8,
    ...strokeIn('quiet'),
  });

/** A picture as wide as a phone, with what it shows told to those who do not see it. */
export const picture = (
  told: { readonly title: string; readonly description: string },
  [width, height]: readonly [number, number],
  children: readonly Child[],
): Element =>
  element(
    'svg',
    {
      xmlns: 'http://www.w3.org/2000/svg',
      viewBox: `0 0 ${units(width)} ${units(height)}`,
      role: 'img',
      'font-family': 'system-ui, sans-serif',
      'font-size': textUnits,
      ...fillIn('quiet'),
    },
    element('title', {}, told.title),
    element('desc', {}, told.description),
    element('rect', { width: units(width), height: units(height), ...fillIn('paper') }),
    children,
  );
