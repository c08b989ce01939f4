import { askingTemplate, type OscAddressed, type Target } from '../../../model/target.js';

/** Where something is asked for: the template, whole, and the place in the target that says so. */
export interface AskedAt {
  readonly name: OscAddressed;
  readonly template: string;
  readonly path: string;
}

/** Every address template of a target that is asked at an address of its own; none for all others. */
export const askedAt = ({ osc }: Target): readonly AskedAt[] => {
  if (osc === undefined || typeof osc.read === 'string' || osc.read.by !== 'address') return [];
  const { read } = osc;
  return (Object.entries(osc.addresses) as [OscAddressed, string][]).flatMap(([name, written]) => {
    const template = askingTemplate(read, name, written);
    const path = read.addresses?.[name] === undefined ? 'osc.read.address' : `osc.read.addresses.${name}`;
    return template === null ? [] : [{ name, template, path }];
  });
};
