import { type AnyDocument, documentNameOf } from './documents.js';
import { formatXml } from './xml/format-xml.js';

/**
 * A document as XML text: the same data as its JSON form, two spaces a level, keys in the order of the
 * schema, so that the same data gives the same bytes.
 */
export const writeXml = (document: AnyDocument): string => formatXml(document, documentNameOf(document));
