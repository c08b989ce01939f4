import type { Intent } from '../../model/intent.js';

/** The intents whose settings a protective fit chooses itself; all others are fitted by nearest. */
export interface Movers {
  readonly pilotCut: Intent | null;
  readonly highCut: Intent | null;
}

export const moversOf = (intents: readonly Intent[]): Movers => ({
  pilotCut:
    intents.find(({ role, type }) => role === 'pilot-cut' && (type === 'peaking' || type === 'notch')) ??
    null,
  highCut: intents.find(({ role, type }) => role === 'high-cut' && type === 'lowpass') ?? null,
});
