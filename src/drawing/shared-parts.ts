import { type Child, type Element, element, markup } from './markup.js';

/** Groups shorter than this are not worth a reference. */
const leastCharacters = 150;

/**
 * The same page with what its pictures have in common told once: a group that stands in a picture as it stood in one before
 * is a reference to that. Axes and legends are half of a picture, and the same in most of a sheet.
 */
export const withSharedParts = (body: readonly Child[]): readonly Child[] => {
  const ids = new Map<string, string>();
  const shared = (group: Element): Element => {
    const text = markup(group);
    if (text.length < leastCharacters) return group;
    const known = ids.get(text);
    if (known !== undefined) return element('use', { href: `#${known}` });
    const id = `part-${ids.size + 1}`;
    ids.set(text, id);
    return { ...group, attributes: { id, ...group.attributes } };
  };
  const walk = (child: Child): Child => {
    if (typeof child === 'string') return child;
    const children = child.children.map((each) =>
      child.name === 'svg' && typeof each !== 'string' && each.name === 'g' ? shared(each) : walk(each),
    );
    return { ...child, children };
  };
  return body.map(walk);
};
