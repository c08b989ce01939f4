import { type Outcome, type Problem, problem } from '../../model/problem.js';
import { fail, ok } from '../../units/result.js';
import { type Builder, type FlagAnswers, flagAnswer, type GivenAnswer, replay } from './builder.js';
import type { Asker, Reply } from './terminal-asker.js';

/** Whom a conversation is with, and what becomes of the answers. */
export interface Conversation<State> {
  readonly asker: Asker;
  /** Answers of an earlier time. */
  readonly before: readonly GivenAnswer[];
  keep(answers: readonly GivenAnswer[]): Promise<Outcome<unknown>>;
  /** What is wrong with all answers together. */
  check(state: State): readonly Problem[];
  /** Tells what is wrong with an answer. */
  tell(problem: Problem): void;
  say(text: string): void;
  /** Tells how an answer was understood. */
  hear(lines: readonly string[]): void;
}

/** Where a conversation ended: with all that was to be known, or, with null, before that. */
export interface Ended<State> {
  readonly state: State | null;
  readonly answers: readonly GivenAnswer[];
  /** Whether there are answers that were kept. */
  readonly isKept: boolean;
}

/** An answer, where it led, and whether the command line gave it. */
interface Taken<State> extends GivenAnswer {
  readonly state: State;
  readonly byFlag: boolean;
}

const counted = (count: number): string => (count === 1 ? '1 answer' : `${count} answers`);

/** Whether to go on with what was answered before; null where somebody ends it. */
const goesOn = async (
  count: number,
  { asker }: Pick<Conversation<unknown>, 'asker'>,
): Promise<boolean | null> => {
  const question = {
    words: `There ${count === 1 ? 'is' : 'are'} ${counted(count)} of an earlier time. Go on from there?`,
    usual: 'yes',
    example: 'yes',
    choices: [
      { value: 'yes', words: 'go on where it stopped' },
      { value: 'no', words: 'begin anew', hint: 'forgets them with the first answer' },
    ],
  };
  const reply = await asker.ask(question, false);
  if (reply.kind === 'end') return null;
  return reply.kind === 'back' || reply.text === 'yes';
};

/** The answers of an earlier time that are to count; null where somebody ends it. */
const resumed = async <State>(
  builder: Builder<State>,
  flags: FlagAnswers,
  conversation: Conversation<State>,
): Promise<Taken<State>[] | null> => {
  const { taken } = replay(builder, conversation.before);
  if (conversation.before.length > 0 && taken.length === 0) {
    conversation.say('The answers of an earlier time no longer fit, and it begins anew.');
  }
  if (taken.length === 0) return [];
  const choice = await goesOn(taken.length, conversation);
  if (choice === null) return null;
  if (!choice) return [];
  if (taken.length < conversation.before.length) {
    conversation.say(
      `The first ${taken.length} of ${conversation.before.length} still fit; the others do not.`,
    );
  }
  let state = builder.start;
  return taken.map((answer, at) => {
    const outcome = builder.next(state)?.take(answer.text);
    if (outcome?.ok) state = outcome.value.state;
    const before = taken.slice(0, at).filter(({ id }) => id === answer.id).length;
    return { ...answer, state, byFlag: flagAnswer(flags, answer, before) === answer.text };
  });
};

/** All answers but the last that was given by hand and what the command line gave after it. */
const withoutLast = <State>(taken: readonly Taken<State>[]): readonly Taken<State>[] =>
  taken.slice(0, Math.max(0, taken.map(({ byFlag }) => byFlag).lastIndexOf(false)));

/** Asks one question after another, keeping each answer before the next. Problems: an answer cannot be kept, or a flag's not be taken. */
export const converse = async <State>(
  builder: Builder<State>,
  flags: FlagAnswers,
  conversation: Conversation<State>,
): Promise<Outcome<Ended<State>>> => {
  const { asker, keep, tell, say, hear } = conversation;
  const earlier = await resumed(builder, flags, conversation);
  if (earlier === null) return ok({ state: null, answers: [], isKept: true });
  let taken: readonly Taken<State>[] = earlier;
  // Until something is answered, what was kept before stays.
  let isKept = conversation.before.length > 0;
  for (;;) {
    const state = taken.at(-1)?.state ?? builder.start;
    const question = builder.next(state);
    if (question === null) {
      const wrong = conversation.check(state);
      if (wrong.length === 0) return ok({ state, answers: taken, isKept });
      // One of the answers has to be another: the last is asked for again, and from there it goes back further.
      if (taken.every(({ byFlag }) => byFlag)) return fail(wrong);
      wrong.forEach(tell);
      taken = withoutLast(taken);
      continue;
    }
    const before = taken.filter(({ id }) => id === question.id).length;
    const flag = flagAnswer(flags, question, before);
    const reply: Reply =
      flag === undefined
        ? await asker.ask(
            question,
            taken.some(({ byFlag }) => !byFlag),
          )
        : { kind: 'answer', text: flag };
    if (reply.kind === 'end') return ok({ state: null, answers: taken, isKept });
    if (reply.kind === 'back') {
      if (taken.every(({ byFlag }) => byFlag)) {
        say('This is the first question.');
        continue;
      }
      taken = withoutLast(taken);
    } else {
      const outcome = question.take(reply.text);
      if (!outcome.ok && flag !== undefined) return fail([problem('usage', question.flag, outcome.error)]);
      if (!outcome.ok) {
        tell(problem('answer-refused', '', outcome.error));
        continue;
      }
      if (outcome.value.heard) hear(outcome.value.heard);
      const { id } = question;
      taken = [...taken, { id, text: reply.text, state: outcome.value.state, byFlag: flag !== undefined }];
    }
    const done = await keep(taken.map(({ id, text }) => ({ id, text })));
    if (!done.ok) return done;
    isKept = true;
  }
};
