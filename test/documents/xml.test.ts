import { readFileSync } from 'node:fs';
import { readFile } from 'node:fs/promises';
import { describe, expect, it } from 'vitest';
import { readDocument, readRig, readTarget } from '../../src/documents/read.js';
import { writeJson } from '../../src/documents/write-json.js';
import { writeXml } from '../../src/documents/write-xml.js';
import { expectProblem, problemsIn, sampleText } from './samples.js';

const xsi = 'xmlns:xsi="http://www.w3.org/2001/XMLSchema-instance"';

/** A small rig with something put in at one place. */
const rig = ({
  before = '',
  root = '',
  system = 'link="fm-stereo" audioLowHz="40" audioHighHz="15000"',
  mix = 'outputs="1 2"',
  inside = '',
  after = '',
}: Readonly<Record<string, string>> = {}): string =>
  [
    `${before}<rig format="bandwright-rig/1" title="Sample" ${root}>`,
    `<systems><entry key="ears" ${system}/></systems>`,
    `<mixes><item name="One" feeds="ears" ${mix}/></mixes>`,
    `${inside}</rig>${after}`,
  ].join('\n');

const cases = [
  {
    name: 'unclosed element',
    text: '<rig>\n<mixes>',
    code: 'xml-syntax',
    says: '"<mixes>" begins here and is never closed',
    line: 2,
  },
  {
    name: 'crossed tags',
    text: '<rig>\n<a><b></a></b></rig>',
    code: 'xml-syntax',
    says: '"</a>" does not fit: "<b>" of line 2',
    line: 2,
    column: 7,
  },
  { name: 'end tag alone', text: '<rig/></rig>', code: 'xml-syntax', says: 'no element is open' },
  { name: 'bare <', text: rig({ inside: 'a < b' }), code: 'xml-syntax', says: 'write &lt;' },
  {
    name: '< in an attribute',
    text: '<rig title="a<b"/>',
    code: 'xml-syntax',
    says: 'no attribute of "<rig>"',
  },
  {
    name: 'attribute without quotes',
    text: '<rig title=One/>',
    code: 'xml-syntax',
    says: 'name="value"',
    column: 5,
  },
  { name: 'attribute without a value', text: '<rig title/>', code: 'xml-syntax', says: 'name="value"' },
  {
    name: 'attributes without a space',
    text: '<rig a="1"b="2"/>',
    code: 'xml-syntax',
    says: 'a space before each',
    column: 11,
  },
  {
    name: 'attribute twice',
    text: '<rig a="1"\n a="2"/>',
    code: 'duplicate-key',
    says: '"a" stands twice',
    line: 2,
  },
  { name: 'two elements at the top', text: `${rig()}<rig/>`, code: 'xml-syntax', says: 'a file holds one' },
  {
    name: 'text before the element',
    text: '<!-- a -->text<rig/>',
    code: 'xml-syntax',
    says: 'Text stands outside',
    column: 11,
  },
  {
    name: 'text after the element',
    text: rig({ after: ' text' }),
    code: 'xml-syntax',
    says: 'Text stands outside',
  },
  {
    name: 'CDATA outside',
    text: rig({ after: '<![CDATA[a]]>' }),
    code: 'xml-syntax',
    says: 'Text stands outside',
  },
  { name: 'no element', text: '<!-- nothing -->', code: 'xml-syntax', says: 'no element' },
  { name: 'unclosed comment', text: '<rig><!-- a', code: 'xml-syntax', says: 'never ends with -->' },
  {
    name: 'hyphens in a comment',
    text: '<!-- a -- b --><rig/>',
    code: 'xml-syntax',
    says: 'Two hyphens',
    column: 8,
  },
  { name: 'three hyphens at the end', text: '<!-- a ---><rig/>', code: 'xml-syntax', says: 'Two hyphens' },
  { name: 'unclosed CDATA', text: '<rig><![CDATA[a', code: 'xml-syntax', says: 'never ends with ]]>' },
  { name: ']]> in text', text: '<rig>]]></rig>', code: 'xml-syntax', says: ']]&gt;' },
  {
    name: 'a DOCTYPE',
    text: rig({ before: '<!DOCTYPE rig>\n' }),
    code: 'xml-doctype',
    says: 'refused',
    line: 1,
    column: 1,
  },
  {
    name: 'an entity bomb',
    text: rig({ before: '<!DOCTYPE r [<!ENTITY a "aaaa"><!ENTITY b "&a;&a;">]>', root: 'x="&b;"' }),
    code: 'xml-doctype',
    says: 'refused',
  },
  {
    name: 'an external entity',
    text: rig({ before: '<?xml version="1.0"?><!doctype r SYSTEM "file:///etc/passwd">' }),
    code: 'xml-doctype',
    says: 'refused',
  },
  { name: 'other markup', text: '<rig><!ELEMENT a></rig>', code: 'xml-syntax', says: 'What begins with <!' },
  { name: 'an entity of its own', text: rig({ root: 'x="&show;"' }), code: 'xml-entity', says: '"&show;"' },
  {
    name: 'an HTML entity',
    text: rig({ inside: '&nbsp;' }),
    code: 'xml-entity',
    says: '"&nbsp;" is not read',
  },
  { name: 'a bare &', text: rig({ root: 'x="Salt & Sail"' }), code: 'xml-entity', says: 'write &amp;' },
  { name: 'a reference to NUL', text: rig({ root: 'x="&#0;"' }), code: 'xml-entity', says: 'does not allow' },
  {
    name: 'a reference to a control',
    text: rig({ root: 'x="&#x1b;"' }),
    code: 'xml-entity',
    says: 'does not allow',
  },
  {
    name: 'a reference to a surrogate',
    text: rig({ root: 'x="&#xD800;"' }),
    code: 'xml-entity',
    says: 'does not allow',
  },
  {
    name: 'a reference beyond Unicode',
    text: rig({ root: 'x="&#1114112;"' }),
    code: 'xml-entity',
    says: 'does not allow',
  },
  {
    name: 'an endless reference',
    text: rig({ root: `x="&#${'0'.repeat(99)}65;"` }),
    code: 'xml-entity',
    says: '',
  },
  {
    name: 'a stylesheet',
    text: rig({ before: '<?xml-stylesheet href="a"?>' }),
    code: 'xml-instruction',
    says: 'not read',
  },
  { name: 'PHP', text: rig({ inside: '<?php echo 1 ?>' }), code: 'xml-instruction', says: 'not read' },
  {
    name: 'a late declaration',
    text: rig({ before: '\n<?xml version="1.0"?>' }),
    code: 'xml-instruction',
    says: 'very first',
  },
  {
    name: 'a control character',
    text: '<rig title="a\u0007"/>',
    code: 'xml-character',
    says: '\\u{7}',
    column: 14,
  },
  {
    name: 'a noncharacter',
    text: '<rig title="\ufffe"/>',
    code: 'xml-character',
    says: 'XML does not allow',
  },
  { name: 'a lone surrogate', text: '<rig title="\ud800"/>', code: 'xml-character', says: '\\u{d800}' },
  {
    name: 'Latin-1 declared',
    text: '<?xml version="1.0" encoding="ISO-8859-1"?><rig/>',
    code: 'xml-encoding',
    says: '"ISO-8859-1"',
  },
  {
    name: 'UTF-16 declared',
    text: "<?xml version='1.0' encoding='UTF-16'?><rig/>",
    code: 'xml-encoding',
    says: 'UTF-8',
  },
  { name: 'XML 1.1', text: '<?xml version="1.1"?><rig/>', code: 'xml-syntax', says: 'only 1.0' },
  {
    name: 'broken declaration',
    text: '<?xml encoding="UTF-8"?><rig/>',
    code: 'xml-syntax',
    says: '<?xml version="1.0"',
  },
  {
    name: 'a default namespace',
    text: rig({ root: 'xmlns="http://example.org/"' }),
    code: 'xml-namespace',
    says: '"xmlns"',
  },
  {
    name: 'another namespace',
    text: rig({ root: 'xmlns:a="http://example.org/"' }),
    code: 'xml-namespace',
    says: '"xmlns:a"',
  },
  {
    name: 'xsi as something else',
    text: rig({ root: 'xmlns:xsi="http://example.org/"' }),
    code: 'xml-namespace',
    says: 'XMLSchema-instance',
  },
  {
    name: 'another xsi attribute',
    text: rig({ root: `${xsi} xsi:type="a"` }),
    code: 'xml-namespace',
    says: '"xsi:type"',
  },
  {
    name: 'xsi:nil undeclared',
    text: rig({ inside: '<guard xsi:nil="true"/>' }),
    code: 'xml-namespace',
    says: 'does not declare xmlns:xsi',
  },
  { name: 'an element with a prefix', text: '<a:rig/>', code: 'xml-namespace', says: '"a:rig"' },
  {
    name: 'xml:space',
    text: rig({ root: 'xml:space="preserve"' }),
    code: 'xml-namespace',
    says: '"xml:space"',
  },
  { name: 'deep nesting', text: '<a>'.repeat(65), code: 'too-deep', says: 'more than 64 deep' },
  { name: 'very deep nesting', text: '<a>'.repeat(200_000), code: 'too-deep', says: 'more than 64 deep' },
  {
    name: 'too many values',
    text: rig({ inside: '<a/>'.repeat(300_001) }),
    code: 'too-many-values',
    says: '300000',
  },
  {
    name: 'an element called __proto__',
    text: rig({ inside: '<__proto__/>' }),
    code: 'unknown-key',
    says: '"__proto__" is never allowed',
  },
  {
    name: 'an element called constructor',
    text: rig({ inside: '<constructor a="1"/>' }),
    code: 'unknown-key',
    says: 'never allowed',
  },
  {
    name: 'another document',
    text: '<show/>',
    code: 'xml-root',
    says: 'Allowed: "rig", "intents", "target", "recipe"',
  },
  { name: 'a document mistyped', text: '<targets/>', code: 'xml-root', says: 'did you mean "target"?' },
  {
    name: 'an element and a format that differ',
    text: rig().replace('bandwright-rig', 'bandwright-recipe'),
    code: 'wrong-format',
    path: 'format',
    says: 'belongs to "recipe"',
  },
  { name: 'no format', text: '<rig/>', code: 'missing-key', path: 'format', says: '"format" is missing' },
];

describe('XML that is refused', () => {
  it.each(cases)('$name', ({ text, path = '', ...expected }) => expectProblem(text, { path, ...expected }));
});

const misplaced = [
  {
    name: 'text',
    text: rig({ inside: 'note' }),
    code: 'stray-text',
    path: '',
    says: '"note" stands between elements',
  },
  {
    name: 'text as CDATA',
    text: rig({ inside: '<guard><![CDATA[80]]></guard>' }),
    code: 'stray-text',
    path: 'guard',
    says: '"80"',
  },
  {
    name: 'an unknown attribute',
    text: rig({ mix: 'outputs="1" feed="a"' }),
    code: 'unknown-key',
    path: 'mixes[0].feed',
    says: 'did you mean "feeds"?',
  },
  {
    name: 'an unknown element',
    text: rig({ inside: '<guards/>' }),
    code: 'unknown-key',
    path: 'guards',
    says: 'did you mean "guard"?',
  },
  {
    name: 'an attribute called __proto__',
    text: rig({ mix: 'outputs="1" __proto__="a"' }),
    code: 'unknown-key',
    path: 'mixes[0].__proto__',
    says: '"__proto__"',
  },
  {
    name: 'an attribute called constructor',
    text: rig({ mix: 'outputs="1" constructor="a"' }),
    code: 'unknown-key',
    path: 'mixes[0].constructor',
    says: '"constructor"',
  },
  {
    name: 'an attribute called toString',
    text: rig({ mix: 'outputs="1" toString="a"' }),
    code: 'unknown-key',
    path: 'mixes[0].toString',
    says: '"toString"',
  },
  {
    name: 'an element called toString',
    text: rig({ inside: '<toString/>' }),
    code: 'unknown-key',
    path: 'toString',
    says: '"toString"',
  },
  {
    name: 'an entry called __proto__',
    text: rig().replace('key="ears"', 'key="__proto__"').replace('feeds="ears"', 'feeds="x"'),
    code: 'unknown-key',
    path: 'systems.__proto__',
    says: '"__proto__"',
  },
  {
    name: 'a value as an element',
    text: rig({ inside: '<guard><windowHz>80</windowHz></guard>' }),
    code: 'xml-form',
    path: 'guard.windowHz',
    says: 'windowHz="…"',
  },
  {
    name: 'an object as an attribute',
    text: rig({ root: 'guard="80"' }),
    code: 'xml-form',
    path: 'guard',
    says: 'write it as an element',
  },
  {
    name: 'a list without items',
    text: rig({ inside: '<intents><intent/></intents>' }),
    code: 'xml-form',
    path: 'intents[0]',
    says: '<item',
  },
  {
    name: 'an attribute on a list',
    text: rig().replace('<mixes>', '<mixes count="1">'),
    code: 'unknown-key',
    path: 'mixes.count',
    says: '"count"',
  },
  {
    name: 'an attribute on a map',
    text: rig().replace('<systems>', '<systems count="1">'),
    code: 'unknown-key',
    path: 'systems.count',
    says: '"count"',
  },
  {
    name: 'a map without entries',
    text: rig().replace('entry key="ears"', 'ears'),
    code: 'xml-form',
    path: 'systems.ears',
    says: '<entry key="name"',
  },
  {
    name: 'an entry without a key',
    text: rig().replace('key="ears"', ''),
    code: 'xml-form',
    path: 'systems.entry',
    says: '<entry key="name"',
  },
  {
    name: 'an entry twice',
    text: rig().replace('<systems>', '<systems><entry key="ears" link="wired"/>'),
    code: 'duplicate-key',
    path: 'systems.ears',
    says: 'more than once',
  },
  {
    name: 'an element twice',
    text: rig({ inside: '<guard/><guard/>' }),
    code: 'duplicate-key',
    path: 'guard',
    says: 'more than once',
  },
  {
    name: 'null that holds something',
    text: rig({ root: xsi, inside: '<guard xsi:nil="true" windowHz="1"/>' }),
    code: 'xml-form',
    path: 'guard',
    says: 'can hold nothing else',
  },
  {
    name: 'null where none belongs',
    text: rig({ root: xsi, inside: '<guard xsi:nil="true"/>' }),
    code: 'wrong-type',
    path: 'guard',
    says: 'Null stands where an object belongs',
  },
  {
    name: 'xsi:nil that says neither',
    text: rig({ root: xsi, inside: '<guard xsi:nil="perhaps"/>' }),
    code: 'xml-form',
    path: 'guard',
    says: '"perhaps"',
  },
  ...[
    ['15k', 'write 15000.'],
    ['0x3A98', '"0x3A98" is text where a number belongs'],
    ['1,5', '"1,5" is text where a number belongs'],
    ['', '"" is text where a number belongs'],
    [' 15000', '" 15000" is text where a number belongs; write 15000.'],
    ['+15000', 'write 15000.'],
    ['015000', '"015000" is text where a number belongs'],
    ['.5', '".5" is text where a number belongs'],
    ['NaN', '"NaN" is text where a number belongs.'],
    ['Infinity', '"Infinity" is text where a number belongs.'],
    ['１５０００', 'is text where a number belongs'],
  ].map(([value, says]) => ({
    name: `the number "${value}"`,
    text: rig({ system: `link="fm-stereo" audioLowHz="40" audioHighHz="${value}"` }),
    code: 'wrong-type',
    path: 'systems.ears.audioHighHz',
    says: says ?? '',
  })),
  ...[
    ['1e999', 'number-too-large'],
    ['1e-999', 'number-too-small'],
    ['15000.00000000000000001', 'number-loses-digits'],
  ].map(([value, code]) => ({
    name: `the number ${value}`,
    text: rig({ system: `link="fm-stereo" audioLowHz="40" audioHighHz="${value}"` }),
    code: code ?? '',
    path: 'systems.ears.audioHighHz',
    says: `"${value}"`,
  })),
  {
    name: 'outputs with a comma',
    text: rig({ mix: 'outputs="1,2"' }),
    code: 'wrong-type',
    path: 'mixes[0].outputs[0]',
    says: '"1,2" is text where a whole number belongs',
  },
  {
    name: 'no outputs',
    text: rig({ mix: 'outputs=""' }),
    code: 'wrong-count',
    path: 'mixes[0].outputs',
    says: 'There are 0 entries',
  },
  {
    name: 'a missing attribute',
    text: rig({ mix: '' }),
    code: 'missing-key',
    path: 'mixes[0].outputs',
    says: '"outputs" is missing',
  },
  {
    name: 'a link mistyped',
    text: rig({ system: 'link="fm" audioLowHz="40" title="x y"' }),
    code: 'not-allowed',
    path: 'systems.ears.link',
    says: '"fm-stereo"',
  },
  {
    name: 'what a rule finds',
    text: rig().replace('feeds="ears"', 'feeds="eras"'),
    code: 'feeds-a-system',
    path: 'mixes[0].feeds',
    says: 'did you mean "ears"?',
  },
];

describe('XML whose data is wrong', () => {
  it.each(misplaced)('$name', ({ text, ...expected }) => expectProblem(text, expected));

  it('is told the line of the element', () =>
    expectProblem(rig({ mix: 'outputs="0"' }), {
      code: 'out-of-range',
      path: 'mixes[0].outputs[0]',
      says: '0 is out of range',
      line: 3,
      column: 8,
    }));
});

const ownKind = async (parameter: string): Promise<string> => {
  const text = writeXml(JSON.parse(sampleText('target', { 'quantisers.gains': { kind: 'of-mine' } })));
  return text.replace('kind="of-mine"', `kind="of-mine" ${parameter}`);
};

describe('what may be one word or an object', () => {
  // The shipped target in XML, which is asked by an argument.
  const lr24 = readFileSync(new URL('../../targets/lr-24.xml', import.meta.url), 'utf8');
  const element = /<read [\s\S]*<\/read>/;
  const asWord = lr24.replace(element, '').replace('<osc>', '<osc read="none">');

  it('is an element, or an attribute', async () => {
    const readOf = async (text: string) => {
      const target = readTarget(text, { source: 'x' });
      return target.ok ? target.value.osc?.read : target.error;
    };
    expect(await readOf(lr24)).toEqual({ by: 'argument', argument: { type: 's', text: '?' } });
    expect(await readOf(asWord)).toBe('none');
  });

  it.each([
    ['both', lr24.replace('<osc>', '<osc read="none">'), 'duplicate-key', 'more than once'],
    [
      'a word between tags',
      lr24.replace(element, '<read>none</read>'),
      'stray-text',
      'values are attributes',
    ],
    ['a word that is none', asWord.replace('"none"', '"argument"'), 'not-allowed', 'or an object'],
  ])('%s', async (_, text, code, says) => {
    const outcome = readTarget(text, { source: 'x' });
    const told = outcome.ok ? [] : outcome.error.filter(({ path }) => path === 'osc.read');
    expect(told).toMatchObject([{ code, message: expect.stringContaining(says) }]);
  });
});

describe('parameters of a quantiser the schemas do not know', () => {
  it.each([
    { parameter: `from="'a'"`, code: 'xml-json', path: 'quantisers.gains.from', says: 'JSON text' },
    {
      parameter: 'label="plain words"',
      code: 'xml-json',
      path: 'quantisers.gains.label',
      says: 'in quotes of its own',
    },
    {
      parameter: 'a="{&quot;b&quot;:1,&quot;b&quot;:2}"',
      code: 'duplicate-key',
      path: 'quantisers.gains.a.b',
      says: 'again',
    },
    { parameter: 'a="[1e999]"', code: 'number-too-large', path: 'quantisers.gains.a[0]', says: 'too large' },
    {
      parameter: 'a="{&quot;__proto__&quot;:1}"',
      code: 'unknown-key',
      path: 'quantisers.gains.a.__proto__',
      says: 'never',
    },
    {
      parameter: `a="${'['.repeat(62)}${']'.repeat(62)}"`,
      code: 'xml-json',
      path: 'quantisers.gains.a',
      says: 'more than 61 deep',
    },
  ])('$parameter: $code', async ({ parameter, ...expected }) =>
    expectProblem(await ownKind(parameter), expected),
  );

  it('are JSON text, whatever they hold', async () => {
    const text = await ownKind(
      'a="20" b="&quot;R10&quot;" c="[1, {&quot;d&quot;: null}]" e="true" f="-0.5e1"',
    );
    const outcome = readDocument(text, { source: 'x' });
    expect(outcome).toMatchObject({
      ok: true,
      value: {
        quantisers: { gains: { kind: 'of-mine', a: 20, b: 'R10', c: [1, { d: null }], e: true, f: -5 } },
      },
    });
  });
});

describe('XML that is read', () => {
  const fixture = (name: string) => readFile(new URL(`../fixtures/${name}`, import.meta.url));

  it('is the same rig as its JSON, in whatever way it is written', async () => {
    const json = readRig(await fixture('rig-full.json'), { source: 'json' });
    const xml = readRig(await fixture('rig-full.xml'), { source: 'xml' });
    expect(problemsIn(xml)).toEqual([]);
    expect(xml).toEqual(json);
  });

  it('tells an empty list from none', async () => {
    const outcome = readRig(rig({ mix: 'outputs="1" freeSlots=""', root: 'leaveOut=""' }), {
      source: 'x',
    });
    expect(outcome).toMatchObject({ ok: true, value: { leaveOut: [], mixes: [{ freeSlots: [] }] } });
    const none = readRig(rig(), { source: 'x' });
    expect(none.ok && none.value.mixes[0]).not.toHaveProperty('freeSlots');
  });
});

describe('what is written', () => {
  it('is the same bytes for the same data, whatever the order of its keys', async () => {
    const reversed = (value: unknown): unknown => {
      if (Array.isArray(value)) return value.map(reversed);
      if (typeof value !== 'object' || value === null) return value;
      return Object.fromEntries(
        Object.entries(value)
          .reverse()
          .map(([key, inner]) => [key, reversed(inner)]),
      );
    };
    for (const name of ['rig', 'intents', 'target', 'recipe', 'journal'] as const) {
      const document = JSON.parse(sampleText(name));
      const other = reversed(document) as typeof document;
      expect(JSON.stringify(other)).not.toBe(JSON.stringify(document));
      expect(writeJson(other)).toBe(writeJson(document));
      expect(writeXml(other)).toBe(writeXml(document));
    }
  });

  it('has the keys in the order of the schema, two spaces a level and a line end at the end', async () => {
    const document = JSON.parse(
      sampleText('intents', { intents: [{ gainDb: -0, type: 'peaking', q: 2, role: 'a', frequencyHz: 1 }] }),
    );
    expect(writeJson(document)).toBe(
      '{\n  "format": "bandwright-intents/1",\n  "title": "Sample",\n  "intents": [\n    {\n      "role": "a",\n      "type": "peaking",\n      "frequencyHz": 1,\n      "q": 2,\n      "gainDb": 0\n    }\n  ]\n}\n',
    );
    expect(writeXml({ ...document, intents: [{ ...document.intents[0], gainDb: -0 }] })).toBe(
      '<?xml version="1.0" encoding="UTF-8"?>\n<intents format="bandwright-intents/1" title="Sample">\n  <intents>\n    <item role="a" type="peaking" frequencyHz="1" q="2" gainDb="0"/>\n  </intents>\n</intents>\n',
    );
  });

  it('throws for what no XML can hold, which no schema lets through', () => {
    const document = JSON.parse(sampleText('rig', { title: 'a\u0001' }));
    expect(() => writeXml(document)).toThrow(RangeError);
  });
});
