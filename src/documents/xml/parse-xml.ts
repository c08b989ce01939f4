import { quote } from '../../units/quote.js';
import { fail, ok } from '../../units/result.js';
import { didYouMean, listed } from '../../units/suggest.js';
import { documentNamed, documentNames } from '../documents.js';
import type { DocumentKind } from '../kinds.js';
import type { ParseOutcome } from '../parsed.js';
import { readElements } from './elements.js';
import { type Decoding, decodeElement } from './values.js';

/**
 * Reads XML text (XML 1.0, without document types) to the shape its document has in JSON, as the schema of
 * the document that the first element names has it. Of a document that is not expected only `format` is read.
 */
export const parseXml = (text: string, expected: readonly DocumentKind[]): ParseOutcome => {
  const parsed = readElements(text);
  if (!parsed.ok) return parsed;
  const root = parsed.value;
  const { offset } = root;
  const name = documentNames.find((each) => each === root.name);
  if (name === undefined) {
    const hint = didYouMean(root.name, documentNames) || '.';
    const message = `the first element is ${quote(root.name)}, which is no document known here${hint} Allowed: ${listed(documentNames)}`;
    return fail({ code: 'xml-root', message, offset });
  }
  const format = root.attributes.get('format');
  const named = documentNamed(format);
  if (named !== undefined && named !== name) {
    const message = `the first element is ${quote(name)}, but format ${quote(format)} belongs to ${quote(named)}`;
    return fail({ code: 'wrong-format', path: 'format', message, offset });
  }
  const decoding: Decoding = { path: '', depth: 1, problems: [], offsets: new Map([['', offset]]) };
  const schema = expected.find((kind) => kind.name === name)?.schema();
  const value = schema ? decodeElement(root, { schema, root: schema }, decoding) : { format };
  return ok({ value, problems: decoding.problems, offsetOf: (path) => decoding.offsets.get(path) });
};
