import type { OtherName } from '../../live/write/names.js';
import { quote } from '../../units/quote.js';

/** That an output goes by another name on the desk, for whoever only reads it. */
export const otherNameNote = ({ mix, output, name }: OtherName): string =>
  `note: on the desk output ${output} ${name === null ? 'tells no name' : `is called ${quote(name)}`}, not ${quote(mix)}: check that these are the right outputs.`;
