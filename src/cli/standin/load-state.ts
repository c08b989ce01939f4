import { decodeText } from '../../documents/decode.js';
import { parseJson } from '../../documents/json/parse-json.js';
import { decodeProblem, locate, textProblem } from '../../documents/locate.js';
import type { Outcome } from '../../model/problem.js';
import { readInput } from '../../node/read-input.js';
import { fail, ok } from '../../units/result.js';

/** The data of a JSON file; whether they are a state is for the stand-in to tell. */
export const loadState = async (path: string): Promise<Outcome<unknown>> => {
  const input = await readInput(path);
  if (!input.ok) return input;
  const { bytes, source } = input.value;
  const text = decodeText(bytes);
  if (!text.ok) return fail([decodeProblem(text.error, source)]);
  const parsed = parseJson(text.value);
  if (!parsed.ok) return fail([textProblem(parsed.error, text.value, source)]);
  const { value, problems, offsetOf } = parsed.value;
  return problems.length > 0 ? fail(locate(problems, text.value, source, offsetOf)) : ok(value);
};
