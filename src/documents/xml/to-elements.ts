import { EntityDecoder } from '@nodable/entities';
import { XMLParser, XMLValidator } from 'fast-xml-parser';
import { quote } from '../../units/quote.js';
import { fail, ok, type Result } from '../../units/result.js';
import { deepestNesting } from '../limits.js';
import type { TextFault } from '../parsed.js';
import type { XmlElement } from './element.js';

const attributeMark = '@';

/** Everything stays text: values are converted by the schema, and references by one decoder for all of them. */
const parser = new XMLParser({
  preserveOrder: true,
  ignoreAttributes: false,
  attributeNamePrefix: attributeMark,
  parseTagValue: false,
  parseAttributeValue: false,
  trimValues: false,
  processEntities: false,
  ignoreDeclaration: true,
  captureMetaData: true,
  maxNestedTags: deepestNesting + 1,
  onDangerousProperty: (name) => name,
});

const startIndex = XMLParser.getMetaDataSymbol() as symbol;

/** The five predefined entities, and numeric references, which the parser by itself leaves as they are. */
const decoder = new EntityDecoder({ numericAllowed: true });

/** A node as the parser gives it in document order: `{ name: children, ':@': attributes }` or `{ '#text': … }`. */
type ParserNode = Readonly<Record<string, unknown>>;

const attributesOf = (node: ParserNode): ReadonlyMap<string, string> =>
  new Map(
    Object.entries((node[':@'] ?? {}) as Readonly<Record<string, string>>).map(([name, raw]) => [
      name.slice(attributeMark.length),
      decoder.decode(raw),
    ]),
  );

const elementOf = (node: ParserNode): XmlElement | null => {
  const name = Object.keys(node).find((key) => key !== ':@' && key !== '#text');
  if (name === undefined) return null;
  const inside = node[name] as readonly ParserNode[];
  const meta = (node as Readonly<Record<symbol, { readonly startIndex?: number } | undefined>>)[startIndex];
  return {
    name,
    attributes: attributesOf(node),
    children: inside.map(elementOf).filter((child) => child !== null),
    text: inside
      .map((child) => child['#text'] ?? '')
      .join('')
      .replace(/^[ \t\n]+|[ \t\n]+$/g, ''),
    offset: meta?.startIndex ?? 0,
  };
};

/** The offset of a place that the validator tells by line and column. */
const offsetAt = (text: string, line: number, column: number): number => {
  const before = text.split('\n').slice(0, line - 1);
  return before.reduce((sum, each) => sum + each.length + 1, 0) + Math.max(0, column - 1);
};

/** Parses XML that the guard has passed. */
export const toElements = (text: string): Result<XmlElement, TextFault> => {
  const valid = XMLValidator.validate(text);
  if (valid !== true) {
    const { msg, line, col } = valid.err;
    return fail({
      code: 'xml-syntax',
      message: `this is not well-formed XML: ${quote(msg)}`,
      offset: offsetAt(text, line, col),
    });
  }
  const nodes = parser.parse(text) as readonly ParserNode[];
  const root = nodes.map(elementOf).find((element) => element !== null);
  if (!root) throw new RangeError('XML that passed every check has no element');
  return ok(root);
};
