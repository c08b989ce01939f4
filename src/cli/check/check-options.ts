import { type GuardScope, guardScope } from '../../guard/guard-scope.js';
import { type Problem, problem } from '../../model/problem.js';
import { usualPilotHz } from '../../model/protection.js';
import type { Db } from '../../units/quantity.js';
import type { DeskFlags } from '../words/desk-options.js';
import { type GuardOptions, guardWishes } from '../words/guard-options.js';

export interface CheckOptions extends GuardOptions, Partial<DeskFlags> {
  readonly target?: string;
  readonly tradeoff?: boolean;
  readonly csv?: boolean;
  readonly hear?: string;
  readonly realisation?: string;
  readonly lineUp?: Db;
  readonly force?: boolean;
  readonly spareSlots?: number;
  readonly quantiser: readonly string[];
  readonly json?: boolean;
}

/** Whether it is asked how near desks come to the pilot, and nothing about one of them alone. */
export const isReach = (rig: string | undefined, { to, tradeoff, hear }: CheckOptions): boolean =>
  rig === undefined && to === undefined && !tradeoff && hear === undefined;

/** Options of a report on one desk, which names it. */
export interface OneDeskOptions extends CheckOptions {
  readonly target: string;
}

/** Options of a report on a rig as it stands on a desk. */
export interface InspectOptions extends OneDeskOptions, DeskFlags {
  readonly target: string;
  readonly to: string;
  readonly rate: number;
  readonly timeout: number;
  readonly tries: number;
}

export const scopeOf = (options: CheckOptions): GuardScope =>
  guardScope(options.pilot ?? usualPilotHz, guardWishes(options));

/** Options that mean something beside some others only. */
const dependants = [
  { name: 'csv', flag: '--csv', beside: ['tradeoff'] },
  { name: 'realisation', flag: '--realisation', beside: ['hear'] },
  { name: 'lineUp', flag: '--line-up', beside: ['hear'] },
  { name: 'force', flag: '--force', beside: ['hear'] },
  { name: 'spareSlots', flag: '--spare-slots', beside: ['tradeoff', 'hear', 'to'] },
  { name: 'keepLossToReach', flag: '--keep-loss-to-reach', beside: ['hear', 'to'] },
  { name: 'attenuation', flag: '--attenuation', beside: ['tradeoff', 'hear', 'to'] },
  { name: 'transport', flag: '--transport', beside: ['to'] },
  { name: 'rate', flag: '--rate', beside: ['to'] },
  { name: 'timeout', flag: '--timeout', beside: ['to'] },
  { name: 'tries', flag: '--tries', beside: ['to'] },
  { name: 'allowBroadcast', flag: '--allow-broadcast', beside: ['to'] },
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

/** What is missing of a rig, a desk and where it is, given that one of rig and place was named; null where nothing is. */
export const halfInspectProblem = (rig: string | undefined, { to, target }: CheckOptions): Problem | null => {
  const example = 'bandwright check show.json --target log-179 --to 192.0.2.7:9000';
  if (rig === undefined) {
    return problem('usage', '<rig>', `Which mixes are to be read there? Name a rig file, as in ${example}.`);
  }
  if (to === undefined) {
    const told = `A rig is checked as it stands on a desk: say where that is, as in ${example}. What it would come to: bandwright recipe.`;
    return problem('usage', '--to', told);
  }
  return target === undefined
    ? problem(
        'usage',
        '--target',
        `How the desk is spoken to is for a target to say: name it, as in ${example}.`,
      )
    : null;
};

/** The options, where they name all of a desk on the network. */
export const namesAPlace = (options: CheckOptions): options is InspectOptions =>
  (['target', 'to', 'rate', 'timeout', 'tries'] as const).every((name) => options[name] !== undefined);

/** The options, where they name the one desk that a report is on. */
export const namesADesk = (options: CheckOptions): options is OneDeskOptions => options.target !== undefined;

/** More desks than a report looks at; null where there is one. */
export const severalDesksProblem = ({ target }: CheckOptions): Problem | null =>
  target?.includes(',')
    ? problem('usage', '--target', 'This looks at one desk at a time: name one, and the others afterwards.')
    : null;

export const noDeskProblem = ({ hear }: CheckOptions): Problem => {
  const report = hear === undefined ? '--tradeoff' : '--hear hear.wav';
  return problem(
    'usage',
    '--target',
    `This looks at one desk at a time: name it, as in bandwright check ${report} --target log-179.`,
  );
};
