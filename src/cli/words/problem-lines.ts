import { wrap } from '../../layout/wrap.js';
import type { Problem } from '../../model/problem.js';
import { messageColumns, type Terminal } from './terminal.js';

/** Where a problem stands: file, line and column, path in the document; as much as is known. */
const placeOf = ({ source, line, column, path }: Problem): string => {
  const position = line === undefined ? '' : `:${line}${column === undefined ? '' : `:${column}`}`;
  return [`${source ?? ''}${position}`, path].filter((part) => part !== '').join(' ');
};

/** Problems as lines for people, wrapped to the terminal: place, message, code. A path is never broken. */
export const problemLines = (problems: readonly Problem[], terminal: Terminal): readonly string[] =>
  problems.flatMap((each) => {
    const place = placeOf(each);
    const [first = '', ...rest] = wrap(
      `bandwright: ${place === '' ? '' : `${place}: `}${each.message} [${each.code}]`,
      messageColumns(terminal),
      '  ',
      each.source === undefined ? [] : [each.source],
    );
    return [first.replace(/^bandwright:/, terminal.colours.red('bandwright:')), ...rest];
  });
