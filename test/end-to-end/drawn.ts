import { DOMParser, type Element, type Node } from '@xmldom/xmldom';
import { expect } from 'vitest';

/** Markup read by a parser that is not ours and takes only what is well-formed. */
export const parsed = (text: string): Element => {
  const faults: string[] = [];
  const document = new DOMParser({
    onError: (level, message) => void faults.push(`${level}: ${message}`),
  }).parseFromString(text.replace(/^<!DOCTYPE html>/, ''), 'application/xml');
  const root = document.documentElement;
  if (faults.length > 0 || !root) throw new Error(faults.join('\n'));
  return root;
};

/** Elements by their name, in the order of the page. */
export const all = (within: Element, name: string): readonly Element[] =>
  Array.from(within.getElementsByTagName(name));

/** What somebody reads there, blanks as one. */
export const textOf = (node: Node): string => (node.textContent ?? '').replace(/\s+/g, ' ').trim();

const number = (element: Element, name: string): number => Number(element.getAttribute(name));

/** What maps a value to its place along an axis, from the numbers that stand at the axis. */
export const axisOf = (svg: Element, anchor: 'middle' | 'end'): ((value: number) => number) => {
  const along = anchor === 'middle' ? 'x' : 'y';
  const [group] = all(svg, 'g').filter((each) => each.getAttribute('text-anchor') === anchor);
  if (!group) throw new Error(`no axis of ${anchor}`);
  const ticks = all(group, 'text').map((text) => ({ value: Number(textOf(text)), at: number(text, along) }));
  const [first, last] = [ticks[0], ticks.at(-1)];
  if (!first || !last || first === last) throw new Error('an axis of less than two numbers');
  return (value) => first.at + ((value - first.value) / (last.value - first.value)) * (last.at - first.at);
};

/** The centres of the dots of a picture. */
export const dotsOf = (svg: Element): readonly (readonly [x: number, y: number])[] =>
  all(svg, 'circle').map((circle) => [number(circle, 'cx'), number(circle, 'cy')] as const);

/** Where paths of a look begin: the look is the class of their stroke or fill. */
export const pathsOf = (svg: Element, look: string): readonly (readonly [x: number, y: number])[] =>
  all(svg, 'path')
    .filter((path) => (path.getAttribute('class') ?? '').split(' ').includes(look))
    .map((path) => {
      const [, x, y] = /^M(-?[\d.]+),(-?[\d.]+)/.exec(path.getAttribute('d') ?? '') ?? [];
      return [Number(x), Number(y)] as const;
    });

/** The cells of the rows of a table. */
export const rowsOf = (table: Element): readonly (readonly string[])[] =>
  all(table, 'tr').map((row) =>
    Array.from(row.childNodes)
      .map(textOf)
      .filter((text) => text !== ''),
  );

/** A report in its three forms, each from a run of its own. */
export const formsOf = async <Json>(
  run: (...args: readonly string[]) => Promise<{ readonly stdout: Buffer }>,
) => {
  const [sheet, svg, json] = await Promise.all([
    run('--format', 'sheet'),
    run('--format', 'svg'),
    run('--json'),
  ]);
  return {
    page: parsed(sheet.stdout.toString()),
    svg: parsed(svg.stdout.toString()),
    told: JSON.parse(json.stdout.toString()) as Json,
  };
};

/** Places are written to a tenth of a unit. */
export const near = (value: number | undefined, to: number): void =>
  expect(Math.abs((value ?? Number.NaN) - to)).toBeLessThan(0.16);

/** A figure as people are told it. */
export const tenths = (value: number): string => value.toFixed(1);
