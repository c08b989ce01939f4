import { ok, type Result } from '../../units/result.js';

/** One of a few answers to choose from. */
export interface Choice {
  /** The answer, as it would be typed. */
  readonly value: string;
  readonly words: string;
  readonly hint?: string;
}

/** What an answer makes of what is known, and how it was understood, in lines for people. */
export interface Taken<State> {
  readonly state: State;
  readonly heard?: readonly string[];
}

/** One question, as it stands given the answers before it. */
export interface GuidedQuestion<State> {
  /** Its name in drafts; a question that is asked again for the next of a list keeps it. */
  readonly id: string;
  /** The option that answers it on a command line. */
  readonly flag: string;
  readonly words: string;
  /** What to know before answering: what stands so far, how to type it. */
  readonly notes?: readonly string[];
  /** What is taken where nothing is typed; without it something must be. */
  readonly usual?: string;
  /** The same in words, where the answer alone says little. */
  readonly usualWords?: string;
  /** An answer that would do. */
  readonly example: string;
  /** The same for the option, where that takes more than this question does. */
  readonly flagExample?: string;
  readonly choices?: readonly Choice[];
  /** The error is a sentence: what stood there, what is wrong, what is allowed. */
  take(text: string): Result<Taken<State>, string>;
}

/** A document made by asking: what is known before the first answer, and the question that follows from what is known. */
export interface Builder<State> {
  readonly start: State;
  /** Null once nothing is left to ask. */
  next(state: State): GuidedQuestion<State> | null;
}

/** An answer as it was given. */
export interface GivenAnswer {
  readonly id: string;
  readonly text: string;
}

/** Where answers lead. */
export interface Progress<State> {
  readonly state: State;
  readonly question: GuidedQuestion<State> | null;
  /** Those that were taken, in order: all of them, or all before the first that no longer fits. */
  readonly taken: readonly GivenAnswer[];
}

/** Works through answers from the start: the same answers always lead to the same place. */
export const replay = <State>(builder: Builder<State>, answers: readonly GivenAnswer[]): Progress<State> => {
  let state = builder.start;
  const taken: GivenAnswer[] = [];
  for (const answer of answers) {
    const question = builder.next(state);
    const outcome = question?.id === answer.id ? question.take(answer.text) : null;
    if (!outcome?.ok) break;
    state = outcome.value.state;
    taken.push(answer);
  }
  return { state, question: builder.next(state), taken };
};

/** Answers from the command line, by the ids of questions; those to one question in the order they are asked. */
export type FlagAnswers = Readonly<Record<string, readonly string[]>>;

/** The answer of the command line to a question that was answered `before` so many times. */
export const flagAnswer = (
  flags: FlagAnswers,
  { id }: { readonly id: string },
  before: number,
): string | undefined => flags[id]?.[before];

/** An option without which a question stays open. */
interface Missing {
  readonly flag: string;
  readonly words: string;
  readonly example: string;
}

/** What the command line alone leads to. */
export interface Unasked<State> extends Progress<State> {
  /** Options that are missing. */
  readonly missing: readonly Missing[];
  /** How what was given was understood. */
  readonly heard: readonly string[];
  /** An answer that cannot be taken. */
  readonly refused: { readonly flag: string; readonly message: string } | null;
}

/**
 * Answers every question from the command line, or as usual. Where neither has an answer the option is noted as missing,
 * and an example is taken in its place, to find out what else is; once for each question, since one that is asked until
 * something is settled might never be by its example.
 */
export const answerUnasked = <State>(builder: Builder<State>, flags: FlagAnswers): Unasked<State> => {
  const missing = new Map<string, Missing>();
  const taken: GivenAnswer[] = [];
  const lines: string[] = [];
  const asked = new Map<string, number>();
  const lacking = new Set<string>();
  let state = builder.start;
  for (let question = builder.next(state); question; question = builder.next(state)) {
    const { id, flag, words, example, flagExample = example, usual } = question;
    const before = asked.get(id) ?? 0;
    asked.set(id, before + 1);
    const given = flagAnswer(flags, question, before);
    const stopped = (refused: Unasked<State>['refused']): Unasked<State> => ({
      state,
      question,
      taken,
      missing: [...missing.values()],
      heard: lines,
      refused,
    });
    if (given === undefined && usual === undefined) {
      if (!missing.has(flag)) missing.set(flag, { flag, words, example: flagExample });
      if (lacking.has(id)) return stopped(null);
      lacking.add(id);
    }
    const text = given ?? usual ?? example;
    const outcome = question.take(text);
    if (!outcome.ok) return stopped({ flag, message: outcome.error });
    state = outcome.value.state;
    taken.push({ id, text });
    lines.push(...(outcome.value.heard ?? []));
  }
  return { state, question: null, taken, missing: [...missing.values()], heard: lines, refused: null };
};

/** Options that say something no question took: it would be lost. */
export const unusedFlags = (flags: FlagAnswers, taken: readonly GivenAnswer[]): readonly string[] =>
  Object.entries(flags).flatMap(([id, texts]) => {
    const answers = taken.filter((answer) => answer.id === id);
    // A question about one thing of several has the option's name before it.
    return texts.some((text, at) => answers[at]?.text !== text)
      ? [`--${id.replace(/^(address|encoding)-.*/, '$1')}`]
      : [];
  });

/** An answer that is taken as it is. */
export const heard = <State>(state: State, ...lines: readonly string[]): Result<Taken<State>, never> =>
  ok({ state, heard: lines });
