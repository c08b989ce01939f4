import { type AnyDocument, documentNameOf } from './documents.js';

/**
 * A document as XML text: the same data as its JSON form, two spaces a level, keys in the order of the
 * schema, so that the same data gives the same bytes.
 */
export const writeXml = async (document: AnyDocument): Promise<string> => {
  // Loaded with the first XML text, so that JSON pays nothing for it.
  const { formatXml } = await import('./xml/format-xml.js');
  return formatXml(document, documentNameOf(document));
};
