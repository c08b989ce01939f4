import { parseBandwidth, parseFrequency, parseGain, parseQ, parseSlope } from '../units/parse.js';
import type { Result } from '../units/result.js';

type Parse = (text: string) => Result<number, string>;

/** The parser for a value, by the unit its key ends with; knobs are keys of targets. */
const parsers: readonly { readonly key: RegExp; readonly parse: Parse }[] = [
  { key: /Hz$|^frequency$/, parse: parseFrequency },
  { key: /PerOctave$|^slope$/, parse: parseSlope },
  { key: /Db$|^gain$/, parse: parseGain },
  { key: /Octaves$|^bandwidth$/, parse: parseBandwidth },
  { key: /^q$/, parse: parseQ },
  { key: /./, parse: parseFrequency },
];

/** The number a text most likely means under a key: 19000 for `19k` under `frequencyHz`. */
export const numberMeant = (key: string, text: string): number | null => {
  const parsed = parsers.find((each) => each.key.test(key))?.parse(text);
  return parsed?.ok ? parsed.value : null;
};
