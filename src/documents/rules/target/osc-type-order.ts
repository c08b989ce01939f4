import { type Problem, problem } from '../../../model/problem.js';
import type { OscEncoding, OscParameter, Target } from '../../../model/target.js';
import type { Rule } from '../rule.js';
import { offeredTypes } from './slot-type-rule.js';

const counts = ({ as }: OscEncoding): boolean => as === 'index' || as === 'fraction';

/** A filter type sent as a number is counted in an order, and the order holds every type a slot offers. */
export const oscTypeOrder: Rule<Target> = {
  name: 'osc-type-order',
  check: (target) => {
    const encodings = Object.entries(target.osc?.encodings ?? {}) as [OscParameter, OscEncoding][];
    return encodings.flatMap(([parameter, encoding]): readonly Problem[] => {
      const path = `osc.encodings.${parameter}.order`;
      const { order } = encoding;
      if (parameter !== 'type' || !counts(encoding)) {
        const message = 'An order belongs to the filter type sent as an index only; take it out.';
        return order === undefined ? [] : [problem(oscTypeOrder.name, path, message)];
      }
      if (order === undefined) {
        const message = `The filter type is sent as a number, so the desk's order of types must be given, as in ["peaking", "notch"].`;
        return [problem(oscTypeOrder.name, path, message)];
      }
      const lacking = new Set(
        offeredTypes(target)
          .map(({ type }) => type)
          .filter((type) => !order.includes(type)),
      );
      if (lacking.size === 0) return [];
      const message = `Slots offer ${[...lacking].join(', ')}, which the order does not hold and which could not be sent; complete it.`;
      return [problem(oscTypeOrder.name, path, message)];
    });
  },
};
