import { between, type Fault, onShare } from './fault.js';

/** Long enough for others, sent some milliseconds apart, to overtake. */
const [leastMs, mostMs] = [5, 40];

/** Messages that later ones overtake, either way. */
export const reorder: Fault = {
  name: 'reorder',
  example: '10%',
  summary: 'messages and answers that are held back, so that later ones overtake them',
  place: 'network',
  create: (setting, context) =>
    onShare(setting, context, (delivery) => [
      { ...delivery, delayMs: delivery.delayMs + between(leastMs, mostMs, context.random) },
    ]),
};
