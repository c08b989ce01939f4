import type { Attributes } from './markup.js';

/**
 * What is drawn or written, and its colour by day and by night. Blue against orange stays apart for every common colour
 * blindness; nothing is told by colour alone: lines differ in dashes and width, and every mark has a word.
 */
export const colours = {
  paper: { light: '#ffffff', dark: '#182028' },
  ink: { light: '#1b2430', dark: '#e9edf2' },
  quiet: { light: '#4a5563', dark: '#aeb9c5' },
  grid: { light: '#dfe2e6', dark: '#323d49' },
  set: { light: '#0b5ea8', dark: '#74bcf5' },
  range: { light: '#bcd9f1', dark: '#234a6e' },
  asked: { light: '#5b6068', dark: '#c2c8cf' },
  hand: { light: '#b0440a', dark: '#f29a60' },
  pilot: { light: '#f6deac', dark: '#51400f' },
  pilotEdge: { light: '#865500', dark: '#e6b959' },
  keep: { light: '#1f7350', dark: '#74cba5' },
  link: { light: '#6a3d9e', dark: '#c6a8f0' },
} as const;

/** One of them. */
export type Colour = keyof typeof colours;

/**
 * A colour as a stroke or as a fill: the one by day as an attribute, for a picture that stands alone, and a class by which
 * a page gives it another by night.
 */
const drawnIn = (how: 'stroke' | 'fill', name: Colour): Attributes => ({
  class: `${how}-${name}`,
  [how]: colours[name].light,
});

/** For what is outlined. */
export const strokeIn = (name: Colour): Attributes => drawnIn('stroke', name);

/** For what is filled, text included. */
export const fillIn = (name: Colour): Attributes => drawnIn('fill', name);

const names = Object.keys(colours) as Colour[];

/** The colours of one of the two as custom properties of CSS. */
export const colourProperties = (by: 'light' | 'dark'): string =>
  names.map((name) => `--${name}:${colours[name][by]}`).join(';');

/** The rules by which a page gives its pictures the colours of its own. */
export const pictureRules = names
  .map((name) => `.stroke-${name}{stroke:var(--${name})}.fill-${name}{fill:var(--${name})}`)
  .join('\n');
