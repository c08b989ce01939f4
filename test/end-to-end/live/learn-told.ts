import type {
  GridCheck,
  GridLearned,
  LeftUnlearned,
  PartnerFound,
  SlotTypes,
} from '../../../src/live/learn/found.js';
import type { MixReport } from '../../../src/live/write/report.js';
import type { Run } from '../run.js';

/** What `learn --json` says. */
export interface LearnTold {
  readonly result: string;
  readonly name: string | null;
  readonly journal: string | null;
  readonly mix: MixReport | null;
  readonly grids: readonly GridLearned[];
  readonly notLearned: readonly string[];
  readonly checks: readonly GridCheck[];
  readonly types: readonly SlotTypes[];
  readonly leftAlone: readonly LeftUnlearned[];
  readonly partner: PartnerFound | null;
  readonly messages: { readonly sent: number; readonly besides: number; readonly sweep: number | null };
  readonly problems: readonly { readonly code: string; readonly message: string }[];
}

export const learnTold = ({ stdout, stderr, exitCode }: Run): LearnTold => {
  try {
    return JSON.parse(stdout.toString('utf8')) as LearnTold;
  } catch {
    throw new Error(`exit ${exitCode}, and no JSON: ${stdout.toString('utf8')}\n${stderr}`);
  }
};
