import { printable } from '../units/quote.js';

const plainName = /^[A-Za-z_$][\w$]*$/;
const longestKey = 60;

/** The path of something inside another: `mixes` and 2 give `mixes[2]`, then `feeds` gives `mixes[2].feeds`. */
export const pathTo = (parent: string, key: string | number): string => {
  if (typeof key === 'number') return `${parent}[${key}]`;
  if (plainName.test(key)) return parent === '' ? key : `${parent}.${key}`;
  const shown = key.length > longestKey ? `${key.slice(0, longestKey)}…` : key;
  return `${parent}[${printable(JSON.stringify(shown))}]`;
};

/** The path of something whose own path starts further down. */
export const joinPaths = (parent: string, child: string): string =>
  parent === '' || child === '' || child.startsWith('[') ? `${parent}${child}` : `${parent}.${child}`;

/** The path of what holds the thing at a path; empty at the top. */
export const parentPath = (path: string): string =>
  path.replace(/(?:\.?[A-Za-z_$][\w$]*|\[\d+\]|\["(?:[^"\\]|\\.)*"\])$/, '');
