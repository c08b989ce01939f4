import { wrap } from '../../layout/wrap.js';
import type { Problem } from '../../model/problem.js';
import type { Terminal } from './terminal.js';

/** Where a problem stands: file, line and column, path in the document; as much as is known. */
const placeOf = ({ source, line, column, path }: Problem): string => {
  const position = line === undefined ? '' : `:${line}${column === undefined ? '' : `:${column}`}`;
  return [`${source ?? ''}${position}`, path].filter((part) => part !== '').join(' ');
};

/** Problems as lines for people, wrapped to the terminal: place, message, code. */
export const problemLines = (
  problems: readonly Problem[],
  { columns, colours }: Terminal,
): readonly string[] =>
  problems.flatMap((each) => {
    const place = placeOf(each);
    const [first = '', ...rest] = wrap(
      `bandwright: ${place === '' ? '' : `${place}: `}${each.message} [${each.code}]`,
      Math.max(40, Math.min(columns, 100)),
      '  ',
    );
    return [first.replace(/^bandwright:/, colours.red('bandwright:')), ...rest];
  });
