/** Room for the last bits of a logarithm, as the guard leaves it. */
const roundingDb = 1e-9;

const shown = (valueDb: number, decimals: number): string =>
  `${(Number(valueDb.toFixed(decimals)) + 0).toFixed(decimals)} dB`;

/** Whether a figure holds to its limit. */
export const holdsTo = (figureDb: number, limitDb: number, mustBe: 'at least' | 'at most'): boolean =>
  mustBe === 'at least' ? figureDb >= limitDb - roundingDb : figureDb <= limitDb + roundingDb;

/**
 * A figure and the limit it is held to, in as few decimals, from one up, as do not make a miss look like a hit or the
 * other way round.
 */
export const besideLimit = (
  figureDb: number,
  limitDb: number,
  mustBe: 'at least' | 'at most',
): { readonly figure: string; readonly limit: string } => {
  const holds = (figure: number, limit: number): boolean => holdsTo(figure, limit, mustBe);
  const truth = holds(figureDb, limitDb);
  for (let decimals = 1; decimals < 9; decimals++) {
    if (holds(Number(figureDb.toFixed(decimals)), Number(limitDb.toFixed(decimals))) === truth) {
      return { figure: shown(figureDb, decimals), limit: shown(limitDb, decimals) };
    }
  }
  return { figure: shown(figureDb, 9), limit: shown(limitDb, 9) };
};

/** What is taken at a pilot: `12.3 dB down`, or `5.8 dB up` where it is lifted. */
export const downOrUp = (pilotDb: number, figure: string): string =>
  pilotDb < 0 && Number.parseFloat(figure) !== 0 ? `${figure.replace('-', '')} up` : `${figure} down`;
