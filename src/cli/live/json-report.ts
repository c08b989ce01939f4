import type { MixReport } from '../../live/write/report.js';
import type { Problem } from '../../model/problem.js';
import type { RecipeOutcome } from './shortfall.js';

/** What a push, a restore or a verification tells programs. */
export interface LiveReport {
  readonly purpose: 'push' | 'restore' | 'verify';
  readonly result: string;
  readonly desk: { readonly transport: string; readonly host: string; readonly port: number };
  readonly journal?: string | null;
  /** With what a recipe tells of each, but for a restore. */
  readonly mixes: readonly (Omit<MixReport, 'state' | 'notes'> &
    Partial<RecipeOutcome> & {
      readonly state: string;
      readonly notes?: readonly string[];
    })[];
  readonly problems: readonly Problem[];
}

export const liveReportJson = (report: LiveReport): string => `${JSON.stringify(report, null, 2)}\n`;
