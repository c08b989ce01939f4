import { isCancel, select, text } from '@clack/prompts';
import { wrap } from '../../layout/wrap.js';
import { openKeyboard } from '../../node/keyboard.js';
import { printable } from '../../units/quote.js';
import { messageColumns, type Terminal } from '../words/terminal.js';
import type { Choice, GuidedQuestion } from './builder.js';

/** What somebody does with a question. */
export type Reply =
  | { readonly kind: 'answer'; readonly text: string }
  | { readonly kind: 'back' }
  | { readonly kind: 'end' };

/** Somebody who can be asked. */
export interface Asker {
  ask(question: Omit<GuidedQuestion<unknown>, 'take' | 'flag' | 'id'>, canGoBack: boolean): Promise<Reply>;
  /** Ends the question that is open, and every one after it. */
  end(): void;
  close(): void;
}

/** What goes back, typed or chosen; Escape does too. */
const back = '<';

const goBack: Choice = { value: back, words: 'go back' };

/** How an answer is shown that was taken by Enter alone. */
const taken = (words: string | undefined): string => `(${printable(words ?? '')})`;

/** A note as lines: wrapped, or as it is where it is indented as part of a list. */
const lines = (note: string, terminal: Terminal): readonly string[] =>
  note.startsWith('  ') ? [printable(note)] : wrap(note, messageColumns(terminal));

/** Asks on the terminal, on standard error. */
export const terminalAsker = (terminal: Terminal): Asker => {
  let isEnded = false;
  let open = new AbortController();
  const end = (): void => {
    isEnded = true;
    open.abort();
  };
  const keyboard = openKeyboard(!process.env.NO_COLOR, end);

  const answerOf = async (
    { words, usual, usualWords = usual, example, choices }: Parameters<Asker['ask']>[0],
    canGoBack: boolean,
  ) => {
    const { input, output } = keyboard;
    const common = { input, output, signal: open.signal, withGuide: false };
    const message = terminal.colours.bold(printable(words));
    if (!choices) {
      const placeholder = printable(usual === undefined ? `as in ${example}` : `Enter: ${usualWords}`);
      const defaultValue = usual === undefined ? '' : taken(usualWords);
      return text({ ...common, message, placeholder, defaultValue });
    }
    const options = [...choices, ...(canGoBack ? [goBack] : [])].map(({ value, words: label, hint }) => ({
      value,
      label: printable(label),
      ...(hint === undefined ? {} : { hint: printable(hint) }),
    }));
    return select<string>({
      ...common,
      message,
      options,
      showInstructions: false,
      ...(usual === undefined ? {} : { initialValue: usual }),
    });
  };

  return {
    ask: async (question, canGoBack) => {
      const { notes = [], usual, usualWords = usual, choices } = question;
      open = new AbortController();
      if (isEnded) return { kind: 'end' };
      for (const line of notes.flatMap((note) => lines(note, terminal))) {
        terminal.err(terminal.colours.dim(line));
      }
      const answer = await answerOf(question, canGoBack);
      if (isEnded) return { kind: 'end' };
      // Ctrl-C never gets here: what cancels a question is Escape.
      if (isCancel(answer) || answer?.trim() === back) return { kind: 'back' };
      const typed = choices ? answer : (answer ?? '').trim();
      const isUsual = usual !== undefined && (typed === '' || typed === taken(usualWords));
      return { kind: 'answer', text: isUsual ? usual : typed };
    },
    end,
    close: keyboard.close,
  };
};
