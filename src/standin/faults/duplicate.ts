import { between, type Fault, onShare } from './fault.js';

/** How much later a second copy comes. */
const [leastMs, mostMs] = [1, 25];

/** Messages that arrive twice, either way. */
export const duplicate: Fault = {
  name: 'duplicate',
  example: '10%',
  summary: 'messages and answers that arrive a second time, some milliseconds later',
  place: 'network',
  create: (setting, context) =>
    onShare(setting, context, (delivery) => [
      delivery,
      { ...delivery, delayMs: delivery.delayMs + between(leastMs, mostMs, context.random) },
    ]),
};
