import type { Mix } from '../../model/rig.js';
import { limits } from '../../units/generated/limits.js';
import { parseOutputs } from '../../units/parse.js';
import { quoteText } from '../../units/quote.js';
import { fail, ok, type Result } from '../../units/result.js';
import { closest, didYouMean, listed } from '../../units/suggest.js';

/** What a mix is taken to be where less is typed than there is to say. */
export interface MixDefaults {
  readonly systems: readonly string[];
  /** The system the mix before it feeds. */
  readonly feeds: string;
  readonly mixes: readonly Mix[];
}

/** The pair of outputs that follows all that are taken, the odd one first; null where there is none left. */
export const nextPair = (mixes: readonly Mix[]): readonly [number, number] | null => {
  const highest = Math.max(0, ...mixes.flatMap(({ outputs }) => outputs));
  const left = highest + 1 + (highest % 2);
  return left + 1 > limits.output.most ? null : [left, left + 1];
};

interface Parts {
  readonly name: string;
  readonly outputs?: string;
  readonly feeds?: string;
}

const outputsThenSystem = /^(?<outputs>\d+(?:\s*[/,]\s*\d+)?)?(?:\s*:\s*|\s+|^)(?<feeds>\S+)?$/;

const splitRest = (rest: string): Omit<Parts, 'name'> | null => {
  const trimmed = rest.trim();
  if (trimmed === '') return {};
  if (/^\d+(?:\s*[/,]\s*\d+)?$/.test(trimmed)) return { outputs: trimmed };
  const { outputs, feeds } = outputsThenSystem.exec(trimmed)?.groups ?? {};
  if (outputs === undefined && feeds === undefined) return null;
  return { ...(outputs === undefined ? {} : { outputs }), ...(feeds === undefined ? {} : { feeds }) };
};

/** Name, outputs and system of `Singer 1/2 packs`, `Singer=1/2:packs`, `"Keys 2" 5/6`, or less. */
const partsOf = (text: string, systems: readonly string[]): Parts | null => {
  const quoted = /^"(?<name>[^"]+)"\s*=?(?<rest>.*)$/s.exec(text)?.groups;
  const assigned = /^(?<name>[^=]+)=(?<rest>.+)$/s.exec(text)?.groups;
  const { name, rest } = quoted ?? assigned ?? {};
  if (name !== undefined && rest !== undefined) {
    const split = splitRest(rest);
    return split && { name: name.trim(), ...split };
  }
  // A word at the end is a system where one is called so, else part of the name.
  const words = /^(?<before>.*[^\s:])\s*[\s:]\s*(?<last>[^\s:]+)$/s.exec(text)?.groups;
  const feeds = systems.find((id) => id === words?.last?.toLowerCase());
  const head = feeds === undefined ? text : (words?.before ?? text);
  const numbered = /^(?<name>.*?\S)\s+(?<outputs>\d+(?:\s*[/,]\s*\d+)?)$/s.exec(head)?.groups;
  return {
    name: numbered?.name ?? head,
    ...(numbered?.outputs === undefined ? {} : { outputs: numbered.outputs }),
    ...(feeds === undefined ? {} : { feeds }),
  };
};

const outputsWithin = /\d\s*[/,\-\u2010-\u2015]\s*\d/;
const numberBeforeWord = /\s\d+(?:\s*[/,]\s*\d+)?\s*[\s:]\s*(?<word>[^\s:]+)$/;
const behindColon = /:\s*(?<word>[^\s:]+)$/;
const lastWord = /\s(?<word>\S+)$/;

/**
 * What in a name without quotes looks like outputs or a system that could not be read as such, as a sentence; null where it
 * can only be a name.
 */
const nameFault = (text: string, parts: Parts, systems: readonly string[]): string | null => {
  const { name, feeds } = parts;
  if (text.startsWith('"')) return null;
  const isMeant = 'Where it is all a name, put the name in double quotes.';
  const isAssigned = text.includes('=');
  const wordIn = (pattern: RegExp): string | undefined => pattern.exec(name)?.groups?.word;
  const mistyped = (word: string | undefined): string | undefined =>
    word !== undefined && closest(word, systems) !== undefined ? word : undefined;
  const system =
    isAssigned || feeds !== undefined
      ? undefined
      : (wordIn(numberBeforeWord) ?? wordIn(behindColon) ?? mistyped(wordIn(lastWord)));
  if (system !== undefined) {
    const hint = didYouMean(system, systems) || '.';
    return `${quoteText(text)}: no system is called ${quoteText(system)}${hint} There are: ${listed(systems)}. ${isMeant}`;
  }
  const isTwice = /\s\d+$/.test(name) && /^\d+$/.test(parts.outputs ?? '');
  if (outputsWithin.test(name) || (!isAssigned && (isTwice || wordIn(numberBeforeWord) !== undefined))) {
    return `${quoteText(text)}: it is not plain where the name ends and the outputs begin; write the name, one output or two as in 1/2, and then one system. ${isMeant}`;
  }
  return null;
};

/** One mix as it is typed, with what is not typed as the defaults have it. */
export const parseMix = (text: string, { systems, feeds, mixes }: MixDefaults): Result<Mix, string> => {
  const parts = partsOf(text, systems);
  if (!parts || parts.name === '') {
    return fail(
      `${quoteText(text)} is no mix; write its name, its outputs and what they feed, as in "Singer 1/2 ${feeds}".`,
    );
  }
  const fault = nameFault(text, parts, systems);
  if (fault !== null) return fail(fault);
  if (parts.feeds !== undefined && !systems.includes(parts.feeds)) {
    const hint = didYouMean(parts.feeds, systems) || '.';
    return fail(`No system is called ${quoteText(parts.feeds)}${hint} There are: ${listed(systems)}.`);
  }
  const free = nextPair(mixes);
  if (parts.outputs === undefined && free === null) {
    return fail(`No pair of outputs is left behind those taken for ${quoteText(parts.name)}; write which.`);
  }
  const outputs = parts.outputs === undefined ? ok(free ?? []) : parseOutputs(parts.outputs);
  if (!outputs.ok) return outputs;
  return ok({ name: parts.name, outputs: outputs.value, feeds: parts.feeds ?? feeds });
};

/** Several mixes in one go, by semicolons, line ends, or commas before what is no number: `Singer 1/2, Drums 7`. */
export const splitMixes = (text: string): readonly string[] =>
  (text.match(/(?:"[^"]*"|[^;\n",]|"|,(?=\s*\d))+/g) ?? []).map((part) => part.trim()).filter(Boolean);
