import { missingText } from '../../exporters/words/figures.js';
import { undoneCount } from '../../exporters/words/notes.js';
import { fitNamed } from '../../fitting/registry.js';
import { wrap } from '../../layout/wrap.js';
import type { Recipe } from '../../model/recipe.js';
import { typedWords } from '../words/copyable.js';
import { type ExitCode, exitCodes } from '../words/exit-code.js';

const plural = (count: number, one: string, many = `${one}s`): string =>
  `${count} ${count === 1 ? one : many}`;

/** How much of a recipe its forms tell: all, not what was assumed, or only what is dialled. */
export type Telling = 'all' | 'problems' | 'settings';

const onlySettings: readonly string[] = ['svg', 'osc', 'osc-binary', 'osc-bundle'];

/** What forms tell together; of the text that depends on its length. */
export const tellingOf = (formats: readonly string[], full: boolean): Telling => {
  const others = formats.filter((name) => !onlySettings.includes(name));
  if (others.length === 0) return 'settings';
  return full || others.some((name) => name !== 'text') ? 'all' : 'problems';
};

/** A recipe in a line or two, for whoever does not see it: how many mixes hold their guard, what fell short, where to look. */
export const recipeVerdict = (recipe: Recipe, telling: Telling, columns: number): readonly string[] => {
  const guarded = recipe.mixes.flatMap(({ guard }) => (guard ? [guard] : []));
  const short = guarded.filter(({ verdict }) => verdict === 'falls-short').length;
  const left = recipe.mixes.filter(({ treatment }) => treatment === 'leave-alone').length;
  const problemsPlace = telling === 'settings' ? 'by recipe as text' : 'in the recipe';
  const withProblems = recipe.problems.length > 0 ? 'there too' : 'in the recipe';
  const assumptionsPlace = telling === 'all' ? withProblems : 'by recipe --full';
  const told = `${[
    ...(guarded.length > 0
      ? [
          short === 0
            ? `${plural(guarded.length, 'mix', 'mixes')} guarded: every guard met`
            : `${short} of ${plural(guarded.length, 'guarded mix', 'guarded mixes')} fall short`,
        ]
      : []),
    ...new Set(recipe.mixes.flatMap(({ missing }) => missing.map(missingText))),
    ...(left > 0 ? [`${left} left alone`] : []),
    ...(recipe.problems.length > 0
      ? [`${plural(undoneCount(recipe), 'problem')}, told ${problemsPlace}`]
      : []),
    ...(recipe.assumptions.length > 0
      ? [`${plural(recipe.assumptions.length, 'assumption')}, told ${assumptionsPlace}`]
      : []),
  ].join('; ')}.`;
  return wrap(told, columns);
};

/** What may help where a fit that serves a guard could not attenuate the pilot enough within the loss allowed. */
export const recipeAdvice = (
  { fit, mixes }: Recipe,
  target: string,
): readonly { readonly text: string; readonly command?: string }[] => {
  const askedDb = mixes.flatMap(({ guard }) =>
    guard && guard.worst.pilotAttenuationDb < guard.limits.pilotAttenuationAtLeastDb
      ? [guard.limits.pilotAttenuationAtLeastDb]
      : [],
  );
  if (!fitNamed(fit).needsGuard || askedDb.length === 0) return [];
  const attenuationDb = String(Number(Math.max(...askedDb).toFixed(2)));
  return [
    {
      text: 'What more music lost would buy, to be had by recipe --keep-loss:',
      command: typedWords(['bandwright', 'tradeoff', '--target', target, '--attenuation', attenuationDb]),
    },
    { text: 'Free slots may be spent on further cuts, which may help: recipe --spare-slots 1.' },
  ];
};

/** The same as lines; a command line stands on a line of its own, to be copied. */
export const recipeHint = (recipe: Recipe, target: string, columns: number): readonly string[] =>
  recipeAdvice(recipe, target).flatMap(({ text, command }) => [
    ...wrap(text, columns),
    ...(command === undefined ? [] : [`  ${command}`]),
  ]);

/** Falls short where a guard does, or where anything could not be done as asked. */
export const recipeExitCode = (recipe: Recipe): ExitCode =>
  recipe.problems.length > 0 || recipe.mixes.some(({ guard }) => guard?.verdict === 'falls-short')
    ? exitCodes.fallsShort
    : exitCodes.done;
