import { type Problem, problem } from '../../model/problem.js';
import { usualPilotHz } from '../../model/protection.js';
import { type GuardScope, guardScope } from '../../multiplex/guard-scope.js';
import { type GuardOptions, guardWishes } from '../guard-options.js';

export interface CheckOptions extends GuardOptions {
  readonly target?: string;
  readonly tradeoff?: boolean;
  readonly csv?: boolean;
  readonly hear?: string;
  readonly realisation?: string;
  readonly force?: boolean;
  readonly spareSlots?: number;
  readonly quantiser: readonly string[];
  readonly json?: boolean;
}

/** Options of a report on one desk, which names it. */
export interface OneDeskOptions extends CheckOptions {
  readonly target: string;
}

export const scopeOf = (options: CheckOptions): GuardScope =>
  guardScope(options.pilot ?? usualPilotHz, guardWishes(options));

/** Options that mean something beside some others only. */
const dependants = [
  { name: 'csv', flag: '--csv', beside: ['tradeoff'] },
  { name: 'realisation', flag: '--realisation', beside: ['hear'] },
  { name: 'force', flag: '--force', beside: ['hear'] },
  { name: 'spareSlots', flag: '--spare-slots', beside: ['tradeoff', 'hear'] },
  { name: 'window', flag: '--window', beside: ['tradeoff', 'hear'] },
] as const satisfies readonly {
  readonly name: keyof CheckOptions;
  readonly flag: string;
  readonly beside: readonly (keyof CheckOptions)[];
}[];

/** An option that would do nothing where it stands; null where there is none. */
export const idleOptionProblem = (options: CheckOptions): Problem | null => {
  const idle = dependants.find(
    ({ name, beside }) => options[name] !== undefined && !beside.some((each) => options[each] !== undefined),
  );
  return idle
    ? problem(
        'usage',
        idle.flag,
        `It does something beside ${idle.beside.map((each) => `--${each}`).join(' or ')} only. Add that, or leave it out.`,
      )
    : null;
};

/** The options, where they name the one desk that a report is on. */
export const namesADesk = (options: CheckOptions): options is OneDeskOptions => options.target !== undefined;

export const noDeskProblem = ({ hear }: CheckOptions): Problem => {
  const report = hear === undefined ? '--tradeoff' : '--hear hear.wav';
  return problem(
    'usage',
    '--target',
    `This looks at one desk at a time: name it, as in bandwright check ${report} --target log-201.`,
  );
};
