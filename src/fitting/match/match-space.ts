import type { Realisation } from '../../filters/realisation.js';
import type { DeskSlot } from '../../model/desk.js';
import type { Band } from '../../model/recipe.js';
import { askedCurves } from './asked-curve.js';
import { type BandSpace, bandSpace, type Setting } from './band-space.js';
import { joined, type Response, type Responses, responsesOf } from './responses.js';
import { type Found, makeScorer, type Scorer } from './score.js';

/** What is searched: the settings of every band, and how far each combination lies from the curve asked for. */
export interface MatchSpace {
  readonly bands: readonly BandSpace[];
  readonly start: readonly Setting[];
  readonly responses: readonly Responses[];
  readonly score: Scorer;
  /** The response of no filter at all. */
  readonly wire: Response;
}

export const matchSpace = (
  bands: readonly Band[],
  slots: readonly DeskSlot[],
  realisations: readonly Realisation[],
): MatchSpace => {
  const curves = askedCurves(
    bands.map(({ asked }) => asked),
    realisations,
  );
  const askedDb = joined(curves.map((curve) => curve.askedDb));
  const spaces = bands.map((band) => {
    const slot = slots.find(({ id }) => id === band.slot);
    if (!slot) throw new RangeError(`there is no slot ${band.slot}`);
    return bandSpace(band, slot);
  });
  return {
    bands: spaces,
    start: spaces.map(({ start }) => start),
    responses: spaces.map((space) => responsesOf(space, curves)),
    score: makeScorer(askedDb),
    wire: new Float64Array(askedDb.length),
  };
};

/** Responses added up. */
export const sumOf = (responses: readonly Response[], { wire }: MatchSpace): Response =>
  wire.map((_, i) => responses.reduce((sum, response) => sum + (response[i] as number), 0));

/** What settings come to, whatever that is. */
export const scored = (settings: readonly Setting[], space: MatchSpace): Found => {
  const sum = sumOf(
    settings.map((setting, band) => (space.responses[band] as Responses)(setting)),
    space,
  );
  const score = space.score(sum, space.wire, Number.POSITIVE_INFINITY);
  if (!score) throw new RangeError('a response is not a number');
  return { ...score, settings };
};
