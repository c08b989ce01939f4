import { firstCaution } from '../../exporters/words/notes.js';
import { columnLines, fittingWidth, widthBeside } from '../../layout/columns.js';
import { wrap } from '../../layout/wrap.js';
import type {
  InspectedMix,
  InspectedOutput,
  PilotState,
  WeighedFinding,
} from '../../live/inspect/inspection.js';
import type { Target } from '../../model/target.js';
import type { InspectReport } from '../../node/desk/inspect.js';
import { besideLimit, downOrUp } from '../words/beside-limit.js';
import { otherNameNote } from '../words/other-name.js';
import { placedPhrase, slotPhrase } from '../words/slot-phrase.js';
import { findingWords } from './finding-words.js';

export const stateWords: Readonly<Record<PilotState, string>> = {
  safe: 'PILOT SAFE',
  'at-risk': 'AT RISK',
  'not-known': 'NOT KNOWN',
};

/** What is taken at the pilot, beside what is asked. */
export const pilotText = ({ state, read, scope }: InspectedMix): string => {
  const figures = read.flatMap(({ worst }) => (worst ? [worst.pilotAttenuationDb] : []));
  if (figures.length < read.length) return 'what is taken at the pilot is not known';
  const pilotDb = Math.min(...figures);
  const { figure, limit } = besideLimit(pilotDb, scope.pilotAttenuationAtLeastDb, 'at least');
  const isAsRecipe = state === 'safe' && read.every(({ recipe }) => recipe?.stands);
  return `pilot ${downOrUp(pilotDb, figure)}, at least ${limit} asked${isAsRecipe ? '; it stands as its recipe' : ''}`;
};

/** What was found, each sentence once; where legs were read one by one, with the outputs it is about. */
export const findingTexts = (mix: InspectedMix, target: Target): readonly string[] => {
  const outputsOf = new Map<string, number[]>();
  const tell = ({ slots }: InspectedOutput, finding: WeighedFinding): string => {
    const slot = 'slot' in finding ? slots.find((each) => each.slot === finding.slot) : undefined;
    return findingWords(finding, {
      scope: mix.scope,
      recipe: mix.recipe,
      shown: slot ? slotPhrase(slot.view) : '',
      phrase: (placed) => placedPhrase(placed, target),
    });
  };
  for (const read of mix.read) {
    const { output, findings } = read;
    for (const finding of findings) {
      const text = tell(read, finding);
      outputsOf.set(text, [...(outputsOf.get(text) ?? []), output]);
    }
  }
  return [
    ...[...outputsOf].map(([text, outputs]) =>
      mix.read.length === 1 || outputs.length === mix.read.length
        ? text
        : `output ${outputs.join(' and ')}: ${text}`,
    ),
    ...mix.otherNames.map(otherNameNote),
  ];
};

/** Whether a pilot is at risk, and nothing that is on the desk is to be turned for it. */
const isAtBest = ({ state, read }: InspectedMix): boolean =>
  state === 'at-risk' &&
  read.every(
    (output) =>
      output.state === 'safe' ||
      output.findings.some(
        (each) => (each.kind === 'as-recipe' || each.kind === 'recipe-no-better') && !each.hasLifts,
      ),
  );

const counted = (count: number, one: string, many: string): readonly string[] =>
  count === 0 ? [] : [`${count} ${count === 1 ? one : many}`];

/** How it stands, in a line. */
export const inspectionResult = (mixes: readonly InspectedMix[]): string => {
  const count = (state: PilotState): number => mixes.filter((mix) => mix.state === state).length;
  const [safe, risk, unknown] = [count('safe'), count('at-risk'), count('not-known')];
  if (mixes.length === 0) return 'No mix of this rig feeds an FM stereo link: nothing was read.';
  const best = mixes.filter(isAtBest).length;
  const recipes = best === 1 ? 'its recipe' : 'their recipes';
  const atBest = best === 0 ? '' : ` (${best === risk ? '' : `${best} of them `}as good as ${recipes})`;
  const parts = [
    ...counted(risk, `leaves its pilot at risk${atBest}`, `leave their pilots at risk${atBest}`),
    ...counted(unknown, 'is not known', 'are not known'),
    ...counted(safe, 'is safe', 'are safe'),
  ];
  return `Of ${mixes.length} ${mixes.length === 1 ? 'mix' : 'mixes'} ${parts.join(', ')}.`;
};

/** Whether filters are to be switched or turned as it is told. */
export const isToSet = ({ read }: InspectedMix): boolean =>
  read.some(({ findings }) =>
    findings.some(
      (each) =>
        each.kind === 'recipe-sets' ||
        (each.kind === 'lifts-pilot' && each.weight === 'risk') ||
        ('recipe' in each && typeof each.recipe === 'object'),
    ),
  );

const bulleted = (texts: readonly string[], indent: number, columns: number): readonly string[] => {
  const widths = indent === 0 ? [1] : [indent, 1];
  const cells = indent === 0 ? ['-'] : ['', '-'];
  return texts.flatMap((text) => columnLines([...cells, text], [...widths, widthBeside(widths, columns)]));
};

/** Where it stands so, and what the figures are the worst of. */
export const standingText = (
  { destination }: InspectReport,
  { realisations: { length } }: Target,
): string => {
  const worstOf = length === 1 ? 'for the one way' : `in the worst of ${length} ways`;
  return `as it stands on ${destination ?? 'the desk'}; ${worstOf} this desk may build its filters.`;
};

/** A mix that was not read. */
export const leftText = ({ name, outputs, link }: InspectReport['leftAlone'][number]): string =>
  `${name} (${outputs.join('/')}, ${link})`;

/** A rig as it stands, for people: the result first, then a glance a mix in the rig's order, and why. */
export const inspectionLines = (
  report: InspectReport,
  target: Target,
  columns: number,
): readonly string[] => {
  const { mixes, leftAlone, assumptions } = report;
  const outputsWidth = fittingWidth(
    mixes.map(({ outputs }) => outputs.join('/')),
    3,
    9,
  );
  const heads = [10, outputsWidth];
  const left = leftAlone.map(leftText);
  return [
    ...wrap(inspectionResult(mixes), columns),
    ...wrap(`${report.title}, ${standingText(report, target)}`, columns),
    '',
    ...mixes.flatMap((mix) => [
      ...columnLines(
        [stateWords[mix.state], mix.outputs.join('/'), `${mix.name}: ${pilotText(mix)}`],
        [...heads, widthBeside(heads, columns)],
      ),
      ...bulleted(findingTexts(mix, target), heads[0] ?? 0, columns),
    ]),
    ...(mixes.some(isToSet) ? ['', ...wrap(firstCaution, columns)] : []),
    ...(left.length > 0 ? ['', ...wrap(`LEAVE ALONE, not read: ${left.join('; ')}`, columns)] : []),
    ...(assumptions.length > 0
      ? [
          '',
          'Taken for granted:',
          ...bulleted(
            assumptions.map(({ message }) => message),
            0,
            columns,
          ),
        ]
      : []),
  ];
};
