/** W3C XML Schema, Part 1: Structures, section 2.6: the namespace of `xsi:nil`. */
export const instanceNamespace = 'http://www.w3.org/2001/XMLSchema-instance';

export const nilAttribute = 'xsi:nil';

/** The element of a list's items, and of a map's entries with their keys. */
export const itemElement = 'item';
export const entryElement = 'entry';
export const keyAttribute = 'key';

/** The attribute an item or entry carries a single value in. */
export const valueAttribute = 'value';
