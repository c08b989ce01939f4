import { describe, expect, it } from 'vitest';
import {
  answerUnasked,
  type Builder,
  type GuidedQuestion,
  heard,
  replay,
  unusedFlags,
} from '../../../src/cli/guided/builder.js';
import { type Conversation, converse } from '../../../src/cli/guided/converse.js';
import type { Asker, Reply } from '../../../src/cli/guided/terminal-asker.js';
import { fail, ok } from '../../../src/units/result.js';

/** Asks for a name, then for words until nothing is said. */
interface Known {
  readonly name: string | null;
  readonly words: readonly string[];
  readonly isDone: boolean;
}

const builder: Builder<Known> = {
  start: { name: null, words: [], isDone: false },
  next: (known): GuidedQuestion<Known> | null => {
    if (known.name === null) {
      return {
        id: 'name',
        flag: '--name',
        words: 'Which name?',
        example: 'N',
        take: (text) => (text === 'bad' ? fail('"bad" is bad.') : heard({ ...known, name: text })),
      };
    }
    if (known.isDone) return null;
    return {
      id: 'word',
      flag: '--word',
      words: 'Which word?',
      usual: '',
      example: 'w',
      take: (text) =>
        heard(text === '' ? { ...known, isDone: true } : { ...known, words: [...known.words, text] }, text),
    };
  },
};

/** Somebody who replies so, one after another, and then ends it. */
const replying = (...replies: readonly (string | Reply)[]): Asker & { readonly asked: string[] } => {
  const left = [...replies];
  const asked: string[] = [];
  return {
    asked,
    ask: async ({ words }, canGoBack) => {
      asked.push(`${words}${canGoBack ? '' : ' (first)'}`);
      const reply = left.shift() ?? { kind: 'end' };
      return typeof reply === 'string' ? { kind: 'answer', text: reply } : reply;
    },
    end: () => undefined,
    close: () => undefined,
  };
};

const back: Reply = { kind: 'back' };

const talk = (asker: Asker, before: Conversation<Known>['before'] = []) => {
  const kept: (readonly string[])[] = [];
  const told: string[] = [];
  const conversation: Conversation<Known> = {
    asker,
    before,
    keep: async (answers) => {
      kept.push(answers.map(({ text }) => text));
      return ok(null);
    },
    check: ({ words }) =>
      words.includes('never') ? [{ code: 'x', path: '', message: 'Never say that.' }] : [],
    tell: ({ message }) => told.push(message),
    say: (text) => told.push(text),
    hear: () => undefined,
  };
  return { conversation, kept, told };
};

describe('answers', () => {
  it('lead to the same place again, as far as they fit', () => {
    const answers = [
      { id: 'name', text: 'Quay' },
      { id: 'word', text: 'one' },
      { id: 'other', text: 'two' },
      { id: 'word', text: 'three' },
    ];
    const { state, taken, question } = replay(builder, answers);
    expect(state).toEqual({ name: 'Quay', words: ['one'], isDone: false });
    expect(taken).toEqual(answers.slice(0, 2));
    expect(question?.id).toBe('word');
  });

  it('come from options alone, in their order, and then as usual', () => {
    const {
      state,
      missing,
      refused,
      heard: lines,
    } = answerUnasked(builder, { name: ['Quay'], word: ['a', 'b'] });
    expect(state).toEqual({ name: 'Quay', words: ['a', 'b'], isDone: true });
    expect([missing, refused]).toEqual([[], null]);
    expect(lines).toEqual(['a', 'b', '']);
  });

  it('that are missing or refused are told by their options', () => {
    expect(answerUnasked(builder, {}).missing).toEqual([
      { flag: '--name', words: 'Which name?', example: 'N' },
    ]);
    expect(answerUnasked(builder, { name: ['bad'] }).refused).toEqual({
      flag: '--name',
      message: '"bad" is bad.',
    });
  });

  it('of options that nothing asks for, or that were answered otherwise, are told', () => {
    const taken = [{ id: 'name', text: 'Quay' }];
    expect(unusedFlags({ name: ['Quay'] }, taken)).toEqual([]);
    expect(unusedFlags({ name: ['Pier'], 'address-gain': ['/x'] }, taken)).toEqual(['--name', '--address']);
  });
});

describe('a conversation', () => {
  it('keeps each answer before the next question, and each step back', async () => {
    const { conversation, kept } = talk(replying('Quay', 'one', back, back, 'Pier', 'two', ''));
    const ended = await converse(builder, {}, conversation);
    expect(ended.ok && ended.value.state).toEqual({ name: 'Pier', words: ['two'], isDone: true });
    expect(kept).toEqual([
      ['Quay'],
      ['Quay', 'one'],
      ['Quay'],
      [],
      ['Pier'],
      ['Pier', 'two'],
      ['Pier', 'two', ''],
    ]);
  });

  it('tells what is wrong with an answer, and asks again', async () => {
    const asker = replying('bad', 'good', '');
    const { conversation, told } = talk(asker);
    const ended = await converse(builder, {}, conversation);
    expect(ended.ok && ended.value.state?.name).toBe('good');
    expect(told).toEqual(['"bad" is bad.']);
    expect(asker.asked).toEqual(['Which name? (first)', 'Which name? (first)', 'Which word?']);
  });

  it('tells what is wrong with all answers together, and asks for the last again, from which it goes back', async () => {
    const { conversation, told } = talk(replying('Quay', 'never', '', back, 'ever', ''));
    const ended = await converse(builder, {}, conversation);
    expect(ended.ok && ended.value.state?.words).toEqual(['ever']);
    expect(told).toEqual(['Never say that.']);
    const byFlags = await converse(
      builder,
      { name: ['Quay'], word: ['never', ''] },
      talk(replying()).conversation,
    );
    expect(byFlags).toEqual(fail([{ code: 'x', path: '', message: 'Never say that.' }]));
  });

  it('goes back over what options answered to what was answered by hand', async () => {
    const { conversation, told } = talk(replying(back, 'b', back, back, ''));
    const ended = await converse(builder, { name: ['Quay'], word: ['a'] }, conversation);
    expect(ended.ok && ended.value.state).toEqual({ name: 'Quay', words: ['a'], isDone: true });
    expect(told).toEqual(['This is the first question.', 'This is the first question.']);
  });

  it('goes on with the answers of an earlier time, says which no longer fit, or begins anew', async () => {
    const before = [
      { id: 'name', text: 'Quay' },
      { id: 'word', text: 'one' },
      { id: 'gone', text: 'two' },
    ];
    const on = talk(replying('yes', ''), before);
    const went = await converse(builder, {}, on.conversation);
    expect(went.ok && went.value.state?.words).toEqual(['one']);
    expect(on.told).toEqual(['The first 2 of 3 still fit; the others do not.']);
    const anew = await converse(builder, {}, talk(replying('no', 'Pier', ''), before).conversation);
    expect(anew.ok && anew.value.state).toEqual({ name: 'Pier', words: [], isDone: true });
  });

  it('ends where somebody ends it, with what was kept', async () => {
    expect(await converse(builder, {}, talk(replying()).conversation)).toEqual(
      ok({ state: null, answers: [], isKept: false }),
    );
    const ended = await converse(builder, {}, talk(replying('Quay')).conversation);
    expect(ended.ok && [ended.value.state, ended.value.isKept]).toEqual([null, true]);
  });

  it('stops where an answer cannot be kept, and where an option cannot be taken', async () => {
    const lost = { code: 'file-unwritable', path: '', message: 'The disk is full.' };
    const { conversation } = talk(replying('Quay'));
    const full = await converse(builder, {}, { ...conversation, keep: async () => fail([lost]) });
    expect(full).toEqual(fail([lost]));
    const refused = await converse(builder, { name: ['bad'] }, talk(replying()).conversation);
    expect(refused).toEqual(fail([{ code: 'usage', path: '--name', message: '"bad" is bad.' }]));
  });
});
