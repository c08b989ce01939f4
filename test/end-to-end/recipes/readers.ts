import { readdirSync, readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { join } from 'node:path';
import { type Schema, Validator } from '@cfworker/json-schema';
import { DOMParser, type Element } from '@xmldom/xmldom';
import { fromBuffer, type OscMessageOutput, type OscPacketOutput } from 'osc-min';
import { projectRoot } from '../run.js';

/*
 * Readers that are none of ours: @cfworker/json-schema 4.1.6, @xmldom/xmldom 0.9.12, papaparse 5.7.1 and
 * osc-min 2.1.2.
 */

const schemaFolder = join(projectRoot, 'schemas');

const schemas = readdirSync(schemaFolder)
  .filter((name) => name.endsWith('.schema.json'))
  .map(
    (name) => JSON.parse(readFileSync(join(schemaFolder, name), 'utf8')) as Schema & { readonly $id: string },
  );

const recipeSchema = schemas.find(({ $id }) => $id === 'recipe.schema.json');
if (!recipeSchema) throw new Error('schemas/recipe.schema.json is not there');

const validator = new Validator(recipeSchema, '2020-12', false);
for (const schema of schemas) if (schema !== recipeSchema) validator.addSchema(schema);

/** What the published schema has against a recipe. */
export const schemaFaults = (recipe: unknown): readonly string[] =>
  validator.validate(recipe).errors.map(({ instanceLocation, error }) => `${instanceLocation}: ${error}`);

/** The root element of a text; xmldom throws at what is no XML. */
export const xmlRoot = (text: string): Element => {
  const faults: string[] = [];
  const parser = new DOMParser({ onError: (level, message) => faults.push(`${level}: ${message}`) });
  const root = parser.parseFromString(text, 'application/xml').documentElement;
  if (!root || faults.length > 0) throw new Error(faults.join('\n'));
  return root;
};

const elementsOf = (element: Element): readonly Element[] =>
  Array.from(element.childNodes).filter(
    (node) => node.nodeType === node.ELEMENT_NODE,
  ) as unknown as Element[];

const asText = (value: unknown): string =>
  Array.isArray(value) ? value.map(String).join(' ') : String(value);

const isScalar = (value: unknown): boolean => typeof value !== 'object' || value === null;

/** What an element says that the JSON value of its name does not, or the other way round. */
export const xmlDifferences = (element: Element, value: object, at = element.tagName): readonly string[] => {
  const children = elementsOf(element);
  if (Array.isArray(value)) {
    const names = children.map(({ tagName }) => tagName);
    return names.length === value.length && names.every((name) => name === 'item')
      ? children.flatMap((child, index) => xmlDifferences(child, value[index], `${at}[${index}]`))
      : [`${at} holds ${names.join()} for ${value.length} items`];
  }
  const entries = Object.entries(value as Record<string, unknown>);
  const told = entries.filter(([, each]) => each !== null);
  const isAttribute = (each: unknown) =>
    isScalar(each) || (Array.isArray(each) && each.length > 0 && each.every(isScalar));
  const attributes = told.filter(([, each]) => isAttribute(each));
  const inner = entries.filter(([, each]) => !isAttribute(each) || each === null);
  const known = new Set(attributes.map(([name]) => name));
  const strange = Array.from(element.attributes)
    .map(({ name }) => name)
    .filter((name) => !known.has(name) && !name.startsWith('xmlns'));
  return [
    ...strange.map((name) => `${at} has ${name} in XML alone`),
    ...attributes
      .filter(([name, each]) => element.getAttribute(name) !== asText(each))
      .map(([name, each]) => `${at} ${name}: ${element.getAttribute(name)}, not ${asText(each)}`),
    ...inner.flatMap(([name, each]) => {
      const child = children.find(({ tagName }) => tagName === name);
      if (each === null)
        return child?.getAttribute('xsi:nil') === 'true' ? [] : [`${at}.${name} is not null`];
      return child ? xmlDifferences(child, each as object, `${at}.${name}`) : [`${at} lacks ${name}`];
    }),
    ...(children.length === inner.length
      ? []
      : [`${at} has ${children.length} elements for ${inner.length}`]),
  ];
};

/** What is used of papaparse, which brings no types. */
interface CsvReader {
  parse<Row>(
    text: string,
    options: { header: boolean; newline: string; skipEmptyLines: boolean },
  ): { readonly data: readonly Row[]; readonly errors: readonly unknown[] };
}

const Papa: CsvReader = createRequire(import.meta.url)('papaparse');

export const csvRecords = (text: string): readonly (readonly string[])[] => {
  const { data, errors } = Papa.parse<string[]>(text, {
    header: false,
    newline: '\r\n',
    skipEmptyLines: true,
  });
  if (errors.length > 0) throw new Error(JSON.stringify(errors));
  return data;
};

const message = (packet: OscPacketOutput): OscMessageOutput => {
  if (packet.oscType !== 'message') throw new Error('a bundle where a message belongs');
  return packet;
};

/** The packets of a stream, each behind its size as a big-endian int32 (OSC 1.0, streams). */
export const streamMessages = (stream: Uint8Array): readonly OscMessageOutput[] => {
  const view = new DataView(stream.buffer, stream.byteOffset, stream.byteLength);
  const messages: OscMessageOutput[] = [];
  let at = 0;
  while (at < stream.length) {
    const length = view.getInt32(at);
    messages.push(message(fromBuffer(stream.slice(at + 4, at + 4 + length))));
    at += 4 + length;
  }
  if (at !== stream.length) throw new Error('the last packet is cut short');
  return messages;
};

/** The messages of a bundle that is due at once. */
export const bundleMessages = (bytes: Uint8Array): readonly OscMessageOutput[] => {
  const packet = fromBuffer(bytes);
  if (packet.oscType !== 'bundle') throw new Error('no bundle');
  if (packet.timetag[0] !== 0 || packet.timetag[1] !== 1) throw new Error('not due at once');
  return packet.elements.map(message);
};

const typeTags: Readonly<Record<string, string>> = { integer: 'i', float: 'f', double: 'd', string: 's' };

/** A decoded message as the readable format would have it: address, type tags, the values. */
export const shown = ({ address, args }: OscMessageOutput) => ({
  address,
  types: args.map((argument) => ('type' in argument ? typeTags[argument.type] : '?')).join(''),
  values: args.map((argument) => ('value' in argument ? argument.value : null)),
});

/** A line of the readable format: `/mix/3/filter/1/frequency ,f 19320`. */
export const oscLine = (line: string): ReturnType<typeof shown> => {
  const [, address = '', types = '', rest = ''] = /^(\S+) ,(\S*) ?(.*)$/.exec(line) ?? [];
  const value = types === 's' ? (JSON.parse(rest) as string) : Number(rest);
  return { address, types, values: [types === 'f' ? Math.fround(Number(rest)) : value] };
};
