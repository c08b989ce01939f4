import { describe, expect, it } from 'vitest';
import { parseJson } from '../../src/documents/json/parse-json.js';
import { readDocument } from '../../src/documents/read.js';
import { expectProblem, problemsIn } from './samples.js';

/** Texts that RFC 8259 does not allow, and what is said of each. */
const cases = [
  {
    name: 'missing comma',
    text: '{\n  "a": 1\n  "b": 2\n}',
    says: 'A comma is missing before "b"',
    line: 3,
    column: 3,
  },
  {
    name: 'missing comma in a list',
    text: '{"a": [1 2]}',
    says: 'A comma is missing before "2"',
    line: 1,
    column: 10,
  },
  {
    name: 'trailing comma in an object',
    text: '{"a": 1,\n}',
    says: 'The comma before "}" is one too many',
    line: 2,
  },
  { name: 'trailing comma in a list', text: '{"a": [1, 2,]}', says: 'The comma before "]" is one too many' },
  { name: 'two commas', text: '{"a": [1,, 2]}', says: 'A value is missing before the comma' },
  { name: 'missing colon', text: '{"a" 1}', says: 'A colon is missing' },
  { name: 'missing value', text: '{"a": }', says: 'A value belongs here' },
  { name: 'decimal comma', text: '{"a": 1,5}', says: 'the decimal mark is a point' },
  { name: 'single quotes', text: "{'a': 1}", says: 'double quotes, not single', line: 1, column: 2 },
  { name: 'typographic quotes', text: '{“a”: 1}', says: 'straight double quotes' },
  { name: 'key without quotes', text: '{a: 1}', says: '"a" stands without quotes' },
  { name: 'text without quotes', text: '{"a": ears}', says: '"ears" stands without quotes' },
  {
    name: 'line comment',
    text: '{\n// note\n"a": 1}',
    says: 'Comments are not part of JSON',
    line: 2,
    column: 1,
  },
  { name: 'block comment', text: '{"a": /* note */ 1}', says: 'Comments are not part of JSON' },
  { name: 'hash comment', text: '{\n# note\n"a": 1}', says: 'Comments are not part of JSON', line: 2 },
  {
    name: 'unclosed object',
    text: '{\n "a": {\n "b": 1\n',
    says: 'before this "{" is closed with "}"',
    line: 2,
    column: 7,
  },
  { name: 'unclosed list', text: '{"a": [1, 2', says: 'before this "[" is closed with "]"' },
  { name: 'brackets crossed', text: '{\n"a": [1, 2}', says: '"}" cannot close the "[" of line 2' },
  { name: 'one bracket too many', text: '{"a": 1}}', says: '"}" closes nothing', column: 9 },
  {
    name: 'unclosed text',
    text: '{"a": "b\n}',
    says: 'no closing double quote on its line',
    line: 1,
    column: 7,
  },
  { name: 'unclosed text at the end', text: '{"a": "b', says: 'no closing double quote' },
  { name: 'unknown escape', text: '{"a": "\\x41"}', says: 'A backslash in text' },
  { name: 'broken \\u escape', text: '{"a": "\\u12"}', says: 'four hexadecimal digits' },
  { name: 'raw tab in text', text: '{"a": "b\tc"}', says: 'a control character as such' },
  { name: 'NaN', text: '{"a": NaN}', says: '"NaN" is no number' },
  { name: 'Infinity', text: '{"a": Infinity}', says: '"Infinity" is no number JSON has' },
  { name: '-Infinity', text: '{"a": -Infinity}', says: '"-Infinity" is no number JSON has' },
  { name: 'hexadecimal', text: '{"a": 0x10}', says: 'write 16' },
  { name: 'binary', text: '{"a": 0b101}', says: 'write 5' },
  { name: 'plus sign', text: '{"a": +5}', says: 'no plus sign' },
  { name: 'leading point', text: '{"a": .5}', says: 'write 0.5' },
  { name: 'trailing point', text: '{"a": 5.}', says: 'digits belong after the decimal point' },
  { name: 'leading zero', text: '{"a": 015}', says: 'write 15' },
  { name: 'unit', text: '{"a": 19k}', says: 'write 19000' },
  { name: 'unit after decimals', text: '{"a": 19.32kHz}', says: 'write 19320' },
  { name: 'bare exponent', text: '{"a": 1e}', says: '"1e"' },
  { name: 'True', text: '{"a": True}', says: 'write true' },
  { name: 'None', text: '{"a": None}', says: '"None" is no JSON' },
  { name: 'two documents', text: '{"a": 1} {"b": 2}', says: 'a file holds one object', column: 10 },
  {
    name: 'deep lists',
    text: `{"a": ${'['.repeat(64)}${']'.repeat(64)}}`,
    code: 'too-deep',
    says: 'more than 64 deep',
  },
  {
    name: 'very deep, unclosed',
    text: `{"a": ${'['.repeat(200_000)}`,
    code: 'too-deep',
    says: 'more than 64 deep',
  },
  {
    name: 'very deep behind a text that a line end cuts',
    text: `{"a": "\n${'['.repeat(200_000)}`,
    says: 'no closing double quote',
  },
  {
    name: 'too many values',
    text: `{"a": [${'0,'.repeat(300_001)}0]}`,
    code: 'too-many-values',
    says: 'more than 300000 values',
  },
];

describe('JSON syntax', () => {
  it.each(cases)('$name', ({ code = 'json-syntax', text, says, ...place }) =>
    expectProblem(text, { code, path: '', says, ...place }, 'json'),
  );

  it('is shown on one line that no terminal obeys', async () => {
    const outcome = readDocument('{"a\u001b[2J\u202e": 1, b}', { source: 'x' });
    const [problem] = problemsIn(outcome);
    expect(problem?.message).toMatch(/^[\x20-\x7e]+$/);
    expect(problem?.message).toContain('\\u{1b}[2J\\u{202e}');
  });
});

const spoilt = (text: string): { readonly code: string; readonly path: string }[] => {
  const parsed = parseJson(text);
  if (!parsed.ok) throw new Error(parsed.error.message);
  return parsed.value.problems.map(({ code, path }) => ({ code, path }));
};

describe('JSON values that would be lost', () => {
  it.each([
    { text: '{"a": 1, "b": 2, "a": 3}', code: 'duplicate-key', path: 'a' },
    { text: '{"x": {"q": 1, "\\u0071": 1}}', code: 'duplicate-key', path: 'x.q' },
    { text: '{"my id": [{"k": 1, "k": 1}]}', code: 'duplicate-key', path: '["my id"][0].k' },
    { text: '{"__proto__": {"a": 1}}', code: 'unknown-key', path: '__proto__' },
    { text: '{"a": {"\\u005f_proto__": 1}}', code: 'unknown-key', path: 'a.__proto__' },
    { text: '{"a": [{"constructor": {"prototype": 1}}]}', code: 'unknown-key', path: 'a[0].constructor' },
    { text: '{"prototype": 1}', code: 'unknown-key', path: 'prototype' },
    { text: '{"a": 1e999}', code: 'number-too-large', path: 'a' },
    { text: '{"a": [-1e309]}', code: 'number-too-large', path: 'a[0]' },
    { text: '{"a": 1e-400}', code: 'number-too-small', path: 'a' },
    { text: '{"a": 19000.00000000000000001}', code: 'number-loses-digits', path: 'a' },
    { text: '{"a": 9007199254740993}', code: 'number-loses-digits', path: 'a' },
    { text: '{"a": 0.1000000000000000055}', code: 'number-loses-digits', path: 'a' },
  ])('$text: $code', ({ text, code, path }) => {
    expect(spoilt(text)).toEqual([{ code, path }]);
  });

  it.each([
    '0.1',
    '-15',
    '0',
    '1e3',
    '0.30000000000000004',
    '0.10000000000000001',
    // 696.45147705078125 is a 32-bit float, half-way between the two: engines write it as the first.
    '696.4514770507812',
    '696.4514770507813',
    '696.45147705078125',
    '1.00000000000000000000',
    '1e308',
    '5e-324',
    '9007199254740992',
    '123456789012345680000',
    '0e999',
  ])('are not %s', (literal) => {
    const parsed = parseJson(`[${literal}]`);
    expect(parsed.ok && parsed.value.problems).toEqual([]);
    expect(parsed.ok && parsed.value.value).toEqual([JSON.parse(literal)]);
  });

  it('are not spoilt by negative zero, which is read as zero', () => {
    const parsed = parseJson('[-0, -0.0, -0e5]');
    expect(parsed.ok && parsed.value.value).toEqual([0, 0, 0]);
  });

  it('do not reach the prototype of anything', () => {
    const parsed = parseJson('{"__proto__": {"polluted": true}, "a": {"constructor": 1}}');
    const value = parsed.ok ? (parsed.value.value as Record<string, Record<string, unknown>>) : {};
    expect(Object.getPrototypeOf(value)).toBe(Object.prototype);
    expect(Object.keys(value)).toEqual(['a']);
    expect(value.polluted).toBeUndefined();
    expect(value.a?.constructor).toBe(Object);
  });
});
