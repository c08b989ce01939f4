import { befalling, type Fault } from './fault.js';

/** Messages that never arrive, either way. */
export const loss: Fault = {
  name: 'loss',
  example: '10%',
  summary: 'messages and answers that are lost on the way',
  place: 'network',
  create: (setting, context) => befalling(setting, context, () => []),
};
