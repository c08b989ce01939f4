import { type Problem, problem } from '../../../model/problem.js';
import type { OscAddresses, Target } from '../../../model/target.js';
import { quote } from '../../../units/quote.js';
import type { Rule } from '../rule.js';

const holds = (template: string, placeholder: 'output' | 'slot'): boolean =>
  new RegExp(`\\{${placeholder}(:0\\d)?\\}`).test(template);

const faultOf = (key: string, template: string, target: Target): string | null => {
  if (target.outputs.count > 1 && !holds(template, 'output')) {
    return 'holds no {output}, so every output would be reached alike; put {output} where its number goes';
  }
  if (/\}[A-Za-z0-9]*\{/.test(template)) {
    return 'runs {output} and {slot} together, so that output 1, slot 11 and output 11, slot 1 may share an address; write a "/" between them';
  }
  if (key === 'outputName') {
    return holds(template, 'slot') ? 'holds {slot}, but an output has one name; take {slot} out' : null;
  }
  return target.slots.length > 1 && !holds(template, 'slot')
    ? 'holds no {slot}, so every slot would be reached alike; put {slot} where it goes'
    : null;
};

/** An address tells outputs and slots apart where there is more than one. */
export const oscPlaceholders: Rule<Target> = {
  name: 'osc-placeholders',
  check: (target) => {
    const { addresses = {}, read = 'none' } = target.osc ?? {};
    const faultsIn = (templates: OscAddresses, path: string): readonly Problem[] =>
      Object.entries(templates).flatMap(([key, template]) => {
        const fault = faultOf(key, template, target);
        return fault === null
          ? []
          : [problem(oscPlaceholders.name, `${path}.${key}`, `${quote(template)} ${fault}.`)];
      });
    const asked = typeof read !== 'string' && read.by === 'address' ? read.addresses : {};
    return [...faultsIn(addresses, 'osc.addresses'), ...faultsIn(asked ?? {}, 'osc.read.addresses')];
  },
};
