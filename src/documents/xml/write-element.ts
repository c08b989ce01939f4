import type { WrittenElement } from './encode-element.js';

/** The lines of an element and what it holds, two spaces a level. */
export const elementLines = (
  { name, attributes, children }: WrittenElement,
  level = 0,
): readonly string[] => {
  const indent = '  '.repeat(level);
  const tag = [name, ...attributes.map(([key, value]) => `${key}="${value}"`)].join(' ');
  if (children.length === 0) return [`${indent}<${tag}/>`];
  return [
    `${indent}<${tag}>`,
    ...children.flatMap((child) => elementLines(child, level + 1)),
    `${indent}</${name}>`,
  ];
};
