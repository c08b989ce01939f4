import { type Problem, problem } from '../model/problem.js';
import { quote } from '../units/quote.js';
import { didYouMean } from '../units/suggest.js';
import { type DocumentName, documentKinds, documentNamed } from './documents.js';

const either = (names: readonly DocumentName[], key: 'words' | 'format'): string =>
  names.map((name) => documentKinds[name][key]).join(' or ');

const strangeFormat = (format: unknown, expected: readonly DocumentName[]): string => {
  const reads = either(expected, 'format');
  const known = expected.map((name) => documentKinds[name].format);
  if (typeof format !== 'string') return `${quote(format)} is no format. Allowed: ${reads}.`;
  const family = format.replace(/\d+$/, '');
  return known.some((each) => each.replace(/\d+$/, '') === family)
    ? `${quote(format)} is another version of this format; this version of bandwright reads ${reads}.`
    : `${quote(format)} is not a format known here${didYouMean(format, known) || '.'} Allowed: ${reads}.`;
};

/** Why a document is none of those expected, by its `format`: that one mistake stands for all that follow. */
export const tellFormat = (document: unknown, expected: readonly DocumentName[]): Problem => {
  const words = either(expected, 'words');
  if (typeof document !== 'object' || document === null || Array.isArray(document)) {
    const stands = Array.isArray(document) ? 'a list' : quote(document);
    return problem('wrong-type', '', `The file holds ${stands}, but ${words} is one object.`);
  }
  if (!Object.hasOwn(document, 'format')) {
    const message = `"format" is missing; it tells what the file is. Allowed: ${either(expected, 'format')}.`;
    return problem('missing-key', 'format', message);
  }
  const { format } = document as { readonly format: unknown };
  const actual = documentNamed(format);
  const message =
    actual === undefined
      ? strangeFormat(format, expected)
      : `This file is ${documentKinds[actual].words}, but ${words} belongs here.`;
  return problem('wrong-format', 'format', message);
};
