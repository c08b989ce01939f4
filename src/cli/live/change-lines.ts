import { hang } from '../../layout/wrap.js';
import type { SurveyedMix } from '../../live/write/survey.js';
import type { Desk } from '../../model/desk.js';
import { printable } from '../../units/quote.js';
import { slotPhrase, wantedPhrase } from './slot-phrase.js';

/** A mix by its outputs and its name. */
export const mixHead = ({ plan }: SurveyedMix): string =>
  `${plan.outputs.join('/').padEnd(7)} ${printable(plan.name)}`;

/** What will change, mix by mix and slot by slot: what stands there, and what it becomes. */
export const changeLines = (mixes: readonly SurveyedMix[], desk: Desk, columns: number): readonly string[] =>
  mixes.flatMap((mix) => [
    mixHead(mix),
    ...mix.slots.flatMap(({ plan, found }) => {
      const legs = mix.slots.some((other) => other.plan.output !== plan.output);
      const name = `slot ${plan.slot.id}${legs ? `, output ${plan.output}` : ''}`;
      const [was, becomes] = [slotPhrase(plan, found, desk), wantedPhrase(plan, found, desk)];
      return was === becomes
        ? [`  ${name}: stands so already`]
        : [`  ${name}`, ...hang('    now  ', was, columns), ...hang('    new  ', becomes, columns)];
    }),
  ]);
