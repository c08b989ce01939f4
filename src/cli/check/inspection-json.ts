import type { InspectedMix, InspectedOutput } from '../../live/inspection.js';
import type { SurveyedMix } from '../../live/survey.js';
import type { Desk } from '../../model/desk.js';
import type { DeskPlace } from '../live/open-desk.js';
import { findingTexts, type Inspected } from './inspection-lines.js';

const outputJson = (mix: InspectedMix, found: InspectedOutput, shown: Inspected['shown']) => ({
  ...found,
  slots: found.slots.map((slot) => ({ ...slot, shown: shown(mix, found.output, slot.slot) })),
  messages: findingTexts({ ...mix, read: [found], otherNames: [] }, shown),
});

const mixJson = (mix: InspectedMix, surveyed: SurveyedMix | undefined, shown: Inspected['shown']) => {
  const { name, outputs, state, scope, read, otherNames } = mix;
  return {
    name,
    outputs,
    state,
    guard: scope,
    otherNames,
    read: read.map((each) => outputJson(mix, each, shown)),
    problems: surveyed?.problems.map(({ code, path }) => ({ code, path })) ?? [],
  };
};

/** A rig as it stands, for programs: figures for every way of building, what stands in each slot, and why. */
export const inspectionJson = (
  { title, mixes, leftAlone, assumptions, shown }: Inspected,
  surveyed: readonly SurveyedMix[],
  place: Pick<DeskPlace, 'kind' | 'host' | 'port'> | null,
  { target }: Desk,
): string => {
  const report = {
    purpose: 'check',
    result: mixes.every(({ state }) => state === 'safe') ? 'done' : 'falls-short',
    rig: { title },
    target: target.id,
    desk: place && { transport: place.kind, host: place.host, port: place.port },
    mixes: mixes.map((mix, index) => mixJson(mix, surveyed[index], shown)),
    leftAlone,
    assumptions,
    problems: [],
  };
  return `${JSON.stringify(report, null, 2)}\n`;
};
