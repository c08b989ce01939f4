import { EntityDecoder } from '@nodable/entities';
import { XMLParser } from 'fast-xml-parser';
import { fail, ok, type Result } from '../../units/result.js';
import { deepestNesting, type TextFault } from '../parsed.js';
import { scanXml } from './scan.js';

/** An XML element as the reader sees it: attributes decoded, text kept only where it is more than space. */
export interface XmlElement {
  readonly name: string;
  readonly attributes: ReadonlyMap<string, string>;
  readonly children: readonly XmlElement[];
  readonly text: string;
  readonly offset: number;
}

/** Everything stays text: values are converted by the schema, and references by one decoder for all of them. */
const makeParser = () =>
  new XMLParser({
    preserveOrder: true,
    ignoreAttributes: false,
    attributeNamePrefix: '@',
    parseTagValue: false,
    parseAttributeValue: false,
    trimValues: false,
    processEntities: false,
    ignoreDeclaration: true,
    captureMetaData: true,
    maxNestedTags: deepestNesting + 1,
    onDangerousProperty: (name) => name,
  });

/** The five predefined entities, and numeric references, which the parser by itself leaves as they are. */
const makeDecoder = () => new EntityDecoder({ numericAllowed: true });

/** A node as the parser gives it in document order: `{ name: children, ':@': attributes }` or `{ '#text': … }`. */
type ParserNode = Readonly<Record<string, unknown>>;

const elementOf = (node: ParserNode, startIndex: symbol, decoder: EntityDecoder): XmlElement | null => {
  const name = Object.keys(node).find((key) => key !== ':@' && key !== '#text');
  if (name === undefined) return null;
  const attributes = Object.entries((node[':@'] ?? {}) as Readonly<Record<string, string>>);
  const inside = node[name] as readonly ParserNode[];
  const place = (node as Readonly<Record<symbol, { readonly startIndex?: number } | undefined>>)[startIndex];
  return {
    name,
    // Line ends and tabs in attributes are spaces (XML 1.0, section 3.3.3).
    attributes: new Map(
      attributes.map(([key, raw]) => [key.slice('@'.length), decoder.decode(raw.replace(/[\t\n]/g, ' '))]),
    ),
    children: inside.map((each) => elementOf(each, startIndex, decoder)).filter((child) => child !== null),
    text: inside
      .map((child) => child['#text'] ?? '')
      .join('')
      .replace(/^[ \t\n]+|[ \t\n]+$/g, ''),
    offset: place?.startIndex ?? 0,
  };
};

/** The one element an XML text holds, or why the text is refused. */
export const readElements = (text: string): Result<XmlElement, TextFault> => {
  const wrong = scanXml(text);
  if (wrong) return fail(wrong);
  const startIndex = XMLParser.getMetaDataSymbol() as symbol;
  const decoder = makeDecoder();
  const nodes: readonly ParserNode[] = makeParser().parse(text);
  const [root] = nodes.map((node) => elementOf(node, startIndex, decoder)).filter((each) => each !== null);
  if (!root) throw new RangeError('XML that passed every check has no element');
  return ok(root);
};
