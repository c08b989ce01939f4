import { cutPlaces } from '../../analysis/reach/cut-places.js';
import { standingCurves } from '../../analysis/response-curves.js';
import type { Element } from '../../drawing/markup.js';
import { typeset } from '../../drawing/page-parts.js';
import { responseFigure } from '../../drawing/response-figure.js';
import { closeHz, stretchWords } from '../../drawing/response-view.js';
import { capitalised } from '../../exporters/words/groups.js';
import type { Filter } from '../../filters/filter.js';
import { placedFilter } from '../../fitting/placement.js';
import type { InspectedMix, InspectedOutput } from '../../live/inspect/inspection.js';
import type { Desk } from '../../model/desk.js';
import type { Rig } from '../../model/rig.js';
import type { Hz } from '../../units/quantity.js';
import { pilotText } from './inspection-lines.js';

const actingIn = ({
  slots,
}: InspectedOutput): readonly { readonly slot: string; readonly filter: Filter }[] =>
  slots.flatMap((each) => (each.state === 'acts' ? [{ slot: each.slot, filter: each.filter }] : []));

/** What an output would have with its recipe set and every other slot left as it is; null where no recipe is known. */
const withRecipe = ({ recipe }: InspectedMix, read: InspectedOutput): readonly Filter[] | null =>
  recipe &&
  read.recipe && [
    ...recipe.filters.map(({ type, set }) => placedFilter(type, set)),
    ...actingIn(read)
      .filter(({ slot }) => !recipe.filters.some((placed) => placed.slot === slot))
      .map(({ filter }) => filter),
  ];

/** The slots of which it is not known what stands there. */
export const unknownIn = ({ slots }: InspectedOutput): readonly string[] =>
  slots.flatMap(({ slot, state }) => (state === 'not-known' ? [slot] : []));

/** What was inspected: a rig, and the desk it stands on. */
export interface StandingRig {
  readonly rig: Rig;
  readonly desk: Desk;
}

/** Where the link that a mix feeds ends. */
const linkEndOf = ({ name }: InspectedMix, { mixes, systems }: Rig): Hz | null => {
  const system = systems[mixes.find((mix) => mix.name === name)?.feeds ?? ''];
  return system?.audioHighHz ?? null;
};

/** What stands over frequency, beside its recipe; null where some of it is not known. */
export const standingFigure = (
  mix: InspectedMix,
  read: InspectedOutput,
  { rig, desk }: StandingRig,
): Element | null => {
  if (!read.worst) return null;
  const { scope } = mix;
  const standing = actingIn(read).map(({ filter }) => filter);
  const { frequenciesHz, stands, other } = standingCurves(
    standing,
    withRecipe(mix, read),
    desk.target,
    scope,
  );
  return responseFigure({
    title: `What stands over frequency, ${outputsOf(mix, read)}`,
    description: `Level in dB over frequency, ${stretchWords(scope)}. ${capitalised(typeset(pilotText(mix)))}.`,
    frequenciesHz,
    asked: other?.levelsDb ?? frequenciesHz.map(() => Number.NaN),
    set: stands,
    byHand: null,
    words: { set: 'stands', asked: other ? 'its recipe' : null, isAskedBuilt: true },
    ways: { count: desk.target.realisations.length, drawn: stands.realisation },
    guard: {
      pilotHz: scope.pilotHz,
      windowHz: scope.windowHz,
      attenuationAtLeastDb: scope.pilotAttenuationAtLeastDb,
      keepLowHz: scope.keepLowHz,
      keepHighHz: scope.keepHighHz,
      keepLossAtMostDb: scope.keepLossAtMostDb,
      linkEndsHz: linkEndOf(mix, rig),
    },
    places: cutPlaces(desk.slots, standing, closeHz(scope)),
  });
};

/** What was read as one: the pair, or each leg where they were read one by one. */
export const outputsOf = (mix: InspectedMix, { output }: InspectedOutput): string =>
  mix.read.length > 1 ? `output ${output}` : `output ${mix.outputs.join('/')}`;
