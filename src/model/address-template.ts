import { quote } from '../units/quote.js';
import { fail, ok, type Result } from '../units/result.js';

/** Printable ASCII without space and # * , / ? [ ] { } (OpenSoundControl 1.0, "OSC Address Spaces"). */
const plainAddress = /^(?:\/[!"$-)+\-.0-9:->@A-Z\\^_`a-z|~]+)+$/;

/** Whether a text is the address of one thing: every part named, nothing a pattern would expand. */
export const isOscAddress = (text: string): boolean => plainAddress.test(text);

/** What an address template may name. A slot is told by its id on the target. */
export interface AddressPlace {
  readonly output: number;
  readonly slot?: string;
}

const placeholder = /\{(output|slot)(?::0([1-9]))?\}/g;

/**
 * Fills an address template: `{output}` and `{slot}` are replaced, `{output:02}` is padded with zeros to two
 * digits. The error is a sentence: a placeholder nobody knows, a slot to pad that is no number, a result that
 * is no OSC address.
 */
export const fillAddress = (template: string, place: AddressPlace): Result<string, string> => {
  const faults: string[] = [];
  const filled = template.replace(placeholder, (whole, name: 'output' | 'slot', digits?: string) => {
    const value = place[name];
    if (value === undefined) {
      faults.push(`The address template ${quote(template)} asks for ${whole}, and there is none here.`);
      return whole;
    }
    const text = String(value);
    if (digits !== undefined && !/^[0-9]+$/.test(text)) {
      faults.push(
        `The address template ${quote(template)} pads ${whole} with zeros, and ${quote(text)} is no number. Write {${name}} instead.`,
      );
    }
    return text.padStart(Number(digits ?? 0), '0');
  });
  const [fault] = faults;
  if (fault !== undefined) return fail(fault);
  if (isOscAddress(filled)) return ok(filled);
  return fail(
    `The address template ${quote(template)} gives ${quote(filled)}, which is no OSC address: parts begin with "/", hold printable ASCII without space and # * , / ? [ ] { }, and only {output} and {slot} (or {output:02}) are filled.`,
  );
};
