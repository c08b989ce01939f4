import { InvalidArgumentError, Option } from 'commander';
import { fail, ok, type Result } from '../../units/result.js';

/** Turns a parser of the units room into one commander can use: a refusal becomes a usage error. */
export const parsedBy =
  <Value>(parse: (text: string) => Result<Value, string>) =>
  (text: string): Value => {
    const parsed = parse(text);
    if (!parsed.ok) throw new InvalidArgumentError(parsed.error);
    return parsed.value;
  };

/** Adds a value of an option that may be repeated to those before. */
export const collect = (text: string, before: readonly string[] | undefined): readonly string[] => [
  ...(before ?? []),
  text,
];

export const targetOption = () =>
  new Option(
    '-t, --target <id|path>',
    'the desk: a shipped target or a file of your own',
  ).makeOptionMandatory();

/** The names in a list by commas. */
export const parseTargets = (text: string): Result<readonly string[], string> => {
  const names = text.split(',').map((name) => name.trim());
  return names.includes('')
    ? fail(
        'Between commas stands the id of a shipped target or the path of a file, as in r40,./our-desk.json.',
      )
    : ok(names);
};

/** Several desks; given twice it names the desks of both. */
export const targetsOption = (flags: string, description: string) =>
  new Option(flags, description).argParser((text: string, before: readonly string[] | undefined) => [
    ...new Set([...(before ?? []), ...parsedBy(parseTargets)(text)]),
  ]);

export const quantiserOption = () =>
  new Option('--quantiser <file.mjs>', 'add a kind of grid of your own, from a module (may be repeated)')
    .argParser(collect)
    .default([] as readonly string[], 'none');

export const jsonOption = () => new Option('--json', 'print JSON on standard output');

/** An option that names where something is written. */
export const pathOption = (flags: string, description: string) =>
  new Option(flags, description).argParser(
    parsedBy((path) => (path === '' ? fail('Nothing stands there; name a file or a folder.') : ok(path))),
  );

export const outputOption = () =>
  pathOption('-o, --output <path>', 'write to this file, or into this folder where it ends in /');

export const forceOption = () => new Option('--force', 'replace files that exist already');
