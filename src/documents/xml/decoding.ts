import { type Problem, pathTo, problem } from '../../model/problem.js';
import { note } from '../limits.js';

/** Where a decoder stands in the document, and what it tells on its way. */
export interface Decoding {
  readonly path: string;
  readonly depth: number;
  readonly problems: Problem[];
  readonly offsets: Map<string, number>;
}

/** The decoder's place one key or index further down. */
export const inside = (decoding: Decoding, key: string | number): Decoding => ({
  ...decoding,
  path: pathTo(decoding.path, key),
  depth: decoding.depth + 1,
});

export const tell = ({ problems, path }: Decoding, code: string, message: string): void => {
  note(problems, problem(code, path, message));
};
