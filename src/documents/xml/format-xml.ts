import { rootSchema } from '../describe.js';
import { type AnyDocument, type DocumentName, documentKinds } from '../documents.js';
import { encodeElement, saysNull } from './encode-element.js';
import { instanceNamespace } from './names.js';
import { elementLines } from './write-element.js';

/** A document as XML text, with the XML declaration and a line end at the end. */
export const formatXml = (document: AnyDocument, name: DocumentName): string => {
  const root = encodeElement(name, document, rootSchema(documentKinds[name].schemaFile));
  const namespaces = saysNull(root) ? [['xmlns:xsi', instanceNamespace] as const] : [];
  const whole = { ...root, attributes: [...namespaces, ...root.attributes] };
  return `${['<?xml version="1.0" encoding="UTF-8"?>', ...elementLines(whole)].join('\n')}\n`;
};
