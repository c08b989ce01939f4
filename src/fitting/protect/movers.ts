import type { Intent } from '../../model/intent.js';

/** The intents whose settings a protective fit chooses itself; all others are fitted by nearest. */
export interface Movers {
  readonly highCut: Intent | null;
  /** The cut round the pilot, which further ones stand beside, and whether it may itself be moved. */
  readonly pilotCut: { readonly asked: Intent; readonly isMoved: boolean } | null;
}

/** What a person wrote stays where nearest puts it, unless it says that it may move. */
export const moversOf = (intents: readonly Intent[]): Movers => {
  const pilotCut = intents.find(
    ({ role, type }) => role === 'pilot-cut' && (type === 'peaking' || type === 'notch'),
  );
  return {
    highCut:
      intents.find(({ role, type, mayMove }) => mayMove && role === 'high-cut' && type === 'lowpass') ?? null,
    pilotCut: pilotCut ? { asked: pilotCut, isMoved: pilotCut.mayMove === true } : null,
  };
};
