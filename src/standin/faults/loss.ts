import { type Fault, onShare } from './fault.js';

/** Messages that never arrive, either way. */
export const loss: Fault = {
  name: 'loss',
  example: '10%',
  summary: 'messages and answers that are lost on the way',
  place: 'network',
  create: (setting, context) => onShare(setting, context, () => []),
};
