import { quote } from '../../units/quote.js';
import { fail, ok } from '../../units/result.js';
import { didYouMean, listed } from '../../units/suggest.js';
import { rootSchema } from '../describe.js';
import { type DocumentName, documentKinds, documentNamed, documentNames } from '../documents.js';
import type { ParseOutcome } from '../parsed.js';
import { decodeElement } from './decode-element.js';
import { guardXml } from './guard.js';
import { toElements } from './to-elements.js';

const isDocumentName = (name: string): name is DocumentName =>
  (documentNames as readonly string[]).includes(name);

/**
 * Reads XML text (XML 1.0, without document types) to the shape its document has in JSON, as the schema of
 * the document that the first element names has it.
 */
export const parseXml = (text: string): ParseOutcome => {
  const guarded = guardXml(text);
  if (!guarded.ok) return guarded;
  const parsed = toElements(guarded.value);
  if (!parsed.ok) return parsed;

  const root = parsed.value;
  if (!isDocumentName(root.name)) {
    const hint = didYouMean(root.name, documentNames) || '.';
    const message = `the first element is ${quote(root.name)}, which is no document known here${hint} Allowed: ${listed(documentNames)}`;
    return fail({ code: 'xml-root', message, offset: root.offset });
  }
  const format = root.attributes.get('format');
  const named = documentNamed(format);
  if (named !== undefined && named !== root.name) {
    const message = `the first element is ${quote(root.name)}, but format ${quote(format)} belongs to ${quote(named)}`;
    return fail({ code: 'wrong-format', path: 'format', message, offset: root.offset });
  }
  const decoding = { path: '', depth: 1, problems: [], offsets: new Map<string, number>() };
  const value = decodeElement(root, rootSchema(documentKinds[root.name].schemaFile), decoding);
  return ok({ value, problems: decoding.problems, offsetOf: (path) => decoding.offsets.get(path) });
};
