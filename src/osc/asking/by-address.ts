import { askingTemplate } from '../../model/asking-template.js';
import type { AskByAddress } from '../../model/target.js';
import { quote } from '../../units/quote.js';
import { fail, ok } from '../../units/result.js';
import { fillAddress } from '../address.js';
import type { Asking } from './asking.js';

/** An address of its own, without arguments. */
export const byAddress: Asking<AskByAddress> = {
  name: 'address',
  question: ({ name, place, address }, read) => {
    const template = askingTemplate(read, name, address);
    if (template === null) return fail(`The target does not say at which address ${name} is asked for.`);
    const asked = fillAddress(template, place);
    if (!asked.ok) return asked;
    const answerAddress = read.answeredAt === 'asked-address' ? asked.value : address;
    return ok({ message: { address: asked.value, args: [] }, answerAddress });
  },
  tell: ({ address, addresses, answeredAt }) => {
    const general = address === undefined ? [] : [quote(address)];
    const at = [...general, ...(addresses ? ['an address of its own'] : [])].join(' or ');
    const where = answeredAt === 'asked-address' ? 'there' : 'at the address it is written at';
    return `a value is asked for at ${at}, and answered ${where}`;
  },
};
