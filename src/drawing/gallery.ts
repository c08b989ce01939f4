import { type Element, element } from './markup.js';
import { fillIn } from './palette.js';
import { label, picture, textUnits, units } from './panel.js';

/** A picture among others, and the lines over it; the lines alone where there is none. */
export interface GalleryItem {
  readonly heading: readonly string[];
  readonly figure: Element | null;
}

/** As many characters as a line over a picture has room for in any case: the widest bold letters take 1.1 em. */
export const headingColumns = 26;

const lineUnits = textUnits + 4;
const gapUnits = 12;

/** How large a picture is, by its own box. */
const sizeOf = (figure: Element | null): readonly [width: number, height: number] => {
  if (!figure) return [0, 0];
  const { viewBox } = figure.attributes;
  const [, , width, height] = String(viewBox).split(' ').map(Number);
  if (!width || !height) throw new RangeError(`a picture needs a box of its own, not ${viewBox}`);
  return [width, height];
};

const lines = (texts: readonly string[], x: number, top: number): readonly Element[] =>
  texts.map((text, index) =>
    label(text, [x, top + (index + 1) * lineUnits - 3], { 'font-weight': 700, ...fillIn('ink') }),
  );

/** Pictures in rows of two under a heading, as one picture. */
export const gallery = (
  told: { readonly title: string; readonly description: string },
  heading: readonly string[],
  items: readonly GalleryItem[],
): Element => {
  const across = Math.min(2, Math.max(1, items.length));
  const placed: Element[] = [...lines(heading, gapUnits, gapUnits)];
  const columnUnits = Math.max(0, ...items.map(({ figure }) => sizeOf(figure)[0]));
  let top = gapUnits + heading.length * lineUnits;
  for (let first = 0; first < items.length; first += across) {
    const row = items.slice(first, first + across);
    const headUnits = Math.max(...row.map((item) => item.heading.length)) * lineUnits;
    top += gapUnits;
    row.forEach((item, column) => {
      const left = gapUnits + column * (columnUnits + gapUnits);
      const [width, height] = sizeOf(item.figure);
      placed.push(...lines(item.heading, left, top));
      if (!item.figure) return;
      const { attributes, children } = item.figure;
      placed.push(
        element('svg', { ...attributes, x: left, y: units(top + headUnits), width, height }, children),
      );
    });
    top += headUnits + Math.max(...row.map(({ figure }) => sizeOf(figure)[1]));
  }
  const width = Math.max(columnUnits, 360) * across + gapUnits * (across + 1);
  return picture(told, [width, top + gapUnits], placed);
};
