// Writes README.md in this folder from the schemas: every field of every file, with what they say of it.
import { readFileSync, writeFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';

const schemaOf = (name) =>
  JSON.parse(readFileSync(new URL(`./${name}.schema.json`, import.meta.url), 'utf8'));

const names = ['common', 'rig', 'intents', 'target', 'quantiser', 'osc', 'recipe', 'journal'];
const schemas = Object.fromEntries(names.map((name) => [`${name}.schema.json`, schemaOf(name)]));

const code = (value) => `\`${typeof value === 'string' ? value : JSON.stringify(value)}\``;
const listed = (values) => values.map(code).join(', ');

/** What a reference leads to, the file it is in, and what it is called. */
const follow = (reference, from) => {
  const [file, pointer = ''] = reference.split('#');
  const own = file || from;
  const name = pointer.replace('/$defs/', '');
  return { file: own, name, schema: name === '' ? schemas[own] : schemas[own].$defs[name] };
};

/** Sections of their own: what a field refers to is told there and not again. */
const sections = {
  'target.schema.json#': 'a whole [target](#target)',
  'quantiser.schema.json#': 'a [quantiser](#quantisers)',
  'osc.schema.json#': '[how OSC reaches it](#osc)',
  'intents.schema.json#intent': 'an [intent](#intents)',
};

/** What is shown of a number, a text or a list besides its kind. */
const limitsOf = ({ minimum, exclusiveMinimum, maximum, minItems, maxItems, maxLength }) => {
  const least = minimum ?? minItems;
  const most = maximum ?? maxItems;
  if (maxLength !== undefined) return ` (up to ${maxLength} characters)`;
  if (exclusiveMinimum !== undefined)
    return ` (above ${exclusiveMinimum}${most === undefined ? '' : ` to ${most}`})`;
  if (least !== undefined) return ` (${least} ${most === undefined ? 'or more' : `to ${most}`})`;
  return most === undefined ? '' : ` (up to ${most})`;
};

const nouns = {
  string: 'text',
  integer: 'whole number',
  boolean: '`true` or `false`',
  null: '`null`',
  array: 'list',
};
const limitKeys = { string: ['maxLength'], array: ['minItems', 'maxItems'], null: [] };
const numberKeys = ['minimum', 'exclusiveMinimum', 'maximum'];

const typesOf = ({ type = [] }) => [type].flat();
const isCommon = ({ file, schema }) =>
  file === 'common.schema.json' && !schema.properties && schema.type !== 'array';

/** What a field takes, in words; the fields of an object are told apart. */
const takes = (schema, from) => {
  if (schema.$ref) {
    const to = follow(schema.$ref, from);
    return isCommon(to) ? `[${to.name}](#values)` : takes(to.schema, to.file);
  }
  if (schema.const !== undefined) return code(schema.const);
  if (schema.enum) return listed(schema.enum);
  const words = schema.anyOf?.find((each) => each.enum);
  if (words) return `${listed(words.enum)}, or object`;
  if (schema.properties || schema.additionalProperties || schema.oneOf) return 'object';
  const each = typesOf(schema).map((type) => {
    const keys = limitKeys[type] ?? numberKeys;
    return (nouns[type] ?? type) + limitsOf(Object.fromEntries(keys.map((key) => [key, schema[key]])));
  });
  return each.join(' or ');
};

/** The table of a file's fields. */
const tableOf = (ownFile) => {
  const rows = ['| field | value | needed | meaning |', '|---|---|---|---|'];
  /** Where what a reference leads to has been told, by the reference. */
  const toldAt = new Map();
  /** The words before meanings of fields that are only there beside a word. */
  const beside = [];

  const add = (path, value, isNeeded, meaning) => {
    if (!meaning) throw new Error(`${ownFile}: ${path} has no description`);
    const shown = path.replaceAll(/\{[^}]*\}(?=\.)/g, '*');
    const told = [...beside, meaning.replaceAll('|', '\\|')].join(' ');
    rows.push(`| ${[code(shown), value, isNeeded ? 'yes' : '', told].join(' | ')} |`);
  };

  /** What a schema is by reference: told in another section, told already, or to be told now. */
  const place = (schema, from, path) => {
    const to = schema.$ref ? follow(schema.$ref, from) : { schema, file: from };
    const key = `${to.file}#${to.name}`;
    const section = to.file === ownFile ? undefined : sections[key];
    const known = schema.$ref && to.schema.properties ? toldAt.get(key) : undefined;
    if (schema.$ref && !known) toldAt.set(key, path);
    return { ...to, elsewhere: section ?? (known && `as ${code(known)}`) };
  };

  const addField = (path, field, from, isNeeded) => {
    const isNullable = field.anyOf?.some(({ type }) => type === 'null');
    const schema = isNullable ? field.anyOf.find(({ type }) => type !== 'null') : field;
    const orNull = isNullable ? ' or `null`' : '';
    const to = place(schema, from, path);
    const isScalar =
      to.file === from && typesOf(to.schema).some((type) => type !== 'object' && type !== 'array');
    const own = field.description && schema.$ref && isScalar ? [to.schema.description] : [];
    const meaning = [field.description ?? to.schema.description, ...own].filter(Boolean).join(' ');
    if (to.elsewhere) return add(path, to.elsewhere + orNull, isNeeded, meaning);
    if (schema.$ref && !isCommon(to)) {
      const { $ref, ...more } = schema;
      if (to.schema.anyOf)
        return addField(path, { ...to.schema, ...more, description: meaning }, to.file, isNeeded);
      to.schema = { ...to.schema, ...more };
    }
    const { items } = to.schema;
    if (!items || typesOf(to.schema).includes('string')) {
      add(path, takes(schema.$ref ? { $ref: schema.$ref } : to.schema, from) + orNull, isNeeded, meaning);
      for (const each of to.schema.anyOf ?? []) if (each.$ref) addInside(path, follow(each.$ref, to.file));
      return addInside(path, to);
    }
    const item = place(items, to.file, `${path}[]`);
    const isObject = Boolean(item.schema.properties);
    const what = item.elsewhere ?? (isObject ? 'objects' : takes(items, to.file));
    add(
      path,
      `list${limitsOf(to.schema)}: ${isObject && !item.elsewhere ? '' : 'each '}${what}`,
      isNeeded,
      meaning,
    );
    if (isObject && !item.elsewhere) addInside(`${path}[]`, item);
  };

  /** The fields inside an object. Those that take the same are told as one. */
  const addInside = (path, { schema, file }) => {
    const { properties = {}, additionalProperties, required = [], oneOf = [], discriminator } = schema;
    const at = path === '' ? '' : `${path}.`;
    const groups = new Map();
    for (const [key, value] of Object.entries(properties)) {
      const alike = value.$ref && !value.description ? value.$ref : key;
      groups.set(alike, [...(groups.get(alike) ?? []), key]);
    }
    for (const keys of groups.values()) {
      if (keys[0] === discriminator?.propertyName) continue;
      const name = keys.length === 1 ? keys[0] : `{${keys.join(', ')}}`;
      addField(
        at + name,
        properties[keys[0]],
        file,
        keys.every((key) => required.includes(key)),
      );
    }
    if (typeof additionalProperties === 'object') addField(`${at}<name>`, additionalProperties, file, false);
    for (const alternative of oneOf) {
      const to = follow(alternative.$ref, file);
      const { [discriminator.propertyName]: tag, ...others } = to.schema.properties;
      add(at + discriminator.propertyName, takes(tag, to.file), true, to.schema.description);
      beside.push(`_${tag.const ?? tag.enum.join(', ')}:_`);
      addInside(path, { schema: { ...to.schema, properties: others }, file: to.file });
      beside.pop();
    }
  };

  addInside('', { schema: schemas[ownFile], file: ownFile });
  return rows.join('\n');
};

/** JSON whose short lists and objects stand on one line. */
const compact = (value, indent = '') => {
  const flat = JSON.stringify(value, null, 1)
    .replace(/\n\s*/g, ' ')
    .replaceAll('[ ', '[')
    .replaceAll(' ]', ']');
  if (typeof value !== 'object' || value === null || indent.length + flat.length <= 96) return flat;
  const deeper = `${indent}  `;
  const entries = Array.isArray(value)
    ? value.map((each) => compact(each, deeper))
    : Object.entries(value).map(([key, each]) => `${JSON.stringify(key)}: ${compact(each, deeper)}`);
  const [open, close] = Array.isArray(value) ? '[]' : '{}';
  return `${open}\n${entries.map((each) => deeper + each).join(',\n')}\n${indent}${close}`;
};

const exampleOf = ({ examples: [example] }) => `\`\`\`json\n${compact(example)}\n\`\`\``;

const section = (name, title) => {
  const file = `${name}.schema.json`;
  const schema = schemas[file];
  return [
    `## ${title}`,
    `${schema.description} Schema: [${file}](${file}).`,
    exampleOf(schema),
    tableOf(file),
  ].join('\n\n');
};

const quantisers = () => {
  const { description, $defs } = schemas['quantiser.schema.json'];
  const rows = Object.values($defs).map(({ description: words, properties, examples: [example] }) => {
    const parameters = Object.entries(properties)
      .filter(([key]) => key !== 'kind')
      .map(([key, value]) => `${code(key)}: ${takes(value)}`);
    return `| ${code(example.kind)} | ${words} | ${parameters.join('; ')} | ${code(example)} |`;
  });
  const table = ['| kind | its values | parameters | example |', '|---|---|---|---|', ...rows].join('\n');
  const link = 'Schema: [quantiser.schema.json](quantiser.schema.json).';
  return ['## Quantisers', `${description} ${link}`, table].join('\n\n');
};

const values = () => {
  const rows = Object.entries(schemas['common.schema.json'].$defs)
    .filter(([, schema]) => !schema.properties && schema.type !== 'array')
    .map(([name, schema]) => `| ${name} | ${takes(schema)} | ${schema.description} |`);
  return ['## Values', ['| name | value | meaning |', '|---|---|---|', ...rows].join('\n')].join('\n\n');
};

const introduction = `# The files

<!-- Made by describe.mjs from the schemas in this folder; change their descriptions, not this. -->

What bandwright reads and writes: [rig](#rig), [intents](#intents), [target](#target) with its [quantisers](#quantisers)
and [OSC](#osc), [recipe](#recipe) and [journal](#journal). Each is a JSON file, or an XML one that holds the same, told
by its \`format\`. A key that no table here has is refused, and so is a value outside what its row allows. Units stand at
the end of names: \`frequencyHz\`, \`gainDb\`.

Files of earlier versions have other keys under the same \`format\` (\`bands\`, \`keepLossLimitDb\`) and are refused too:
make such a recipe again, and rename the keys in a file of your own.

In the tables \`mixes[].name\` is the \`name\` of each item of \`mixes\`, \`systems.<name>\` whatever stands under a name of
your own, and \`{q, gain}\` any of those keys, which take the same. "Needed" fields must be there wherever what holds them is.

In XML the first element is the kind of file. An object is an element; a number, a text and a list of either are
attributes, lists with spaces between. Other lists hold \`<item/>\` elements, and names of your own stand in
\`<entry key="name"/>\`. Where a list may be one text instead and that could be taken for the list, the text is the
\`value\` of an element: \`<values value="20 25 31.5"/>\`. \`bandwright targets convert\` turns one form into the other, for every kind of file.`;

/** The text of README.md. */
export const guide = () =>
  `${[
    introduction,
    section('rig', 'Rig'),
    section('intents', 'Intents'),
    section('target', 'Target'),
    quantisers(),
    section('osc', 'OSC'),
    section('recipe', 'Recipe'),
    section('journal', 'Journal'),
    values(),
  ].join('\n\n')}\n`;

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  writeFileSync(new URL('./README.md', import.meta.url), guide());
}
