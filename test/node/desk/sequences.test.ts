import { readdir, readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { describe, expect, it, onTestFinished } from 'vitest';
import { writeJson } from '../../../src/documents/write-json.js';
import { writeXml } from '../../../src/documents/write-xml.js';
import type { Journal } from '../../../src/model/journal.js';
import type { Outcome } from '../../../src/model/problem.js';
import { inspect } from '../../../src/node/desk/inspect.js';
import type { DeskProgress } from '../../../src/node/desk/open-desk.js';
import { dryRun, push } from '../../../src/node/desk/push.js';
import { lastJournal, restore } from '../../../src/node/desk/restore.js';
import { verify } from '../../../src/node/desk/verify.js';
import type { Proposal } from '../../../src/node/desk/write-desk.js';
import { startStandin } from '../../../src/node/standin/start-standin.js';
import { db } from '../../../src/units/quantity.js';
import { recipeOn, rig, shippedDesk } from '../../live/recipe-on.js';
import { scratchFolder } from '../child.js';

/* The library's own sequences, over real sockets against a stand-in: what they do is held against the stand-in's state. */

const valueFrom = <Value>(outcome: Outcome<Value>): Value => {
  if (!outcome.ok) throw new Error(JSON.stringify(outcome.error));
  return outcome.value;
};

const codesOf = (outcome: Outcome<unknown>): readonly string[] =>
  outcome.ok ? [] : outcome.error.map(({ code }) => code);

const names = new Map(rig.mixes.flatMap(({ name, outputs }) => outputs.map((output) => [output, name])));

/** A stand-in whose filters are scattered, a recipe for it, and how to reach it. */
const rehearsal = async (
  id = 'digits-3',
  outputs: { readonly names?: ReadonlyMap<number, string> } = { names },
) => {
  const desk = await shippedDesk(id);
  const writes: string[] = [];
  const reads: string[] = [];
  const standin = valueFrom(
    await startStandin({
      desk,
      kind: desk.target.osc?.transports[0]?.kind ?? 'udp',
      port: 0,
      bind: '127.0.0.1',
      scatter: true,
      seed: 4,
      outputs,
      onEvent: (event) => {
        if (event.event === 'write') writes.push(event.address);
        if (event.event === 'read') reads.push(event.address);
      },
    }),
  );
  onTestFinished(() => standin.close());
  const folder = join(await scratchFolder(), 'journals');
  const options = {
    to: `127.0.0.1:${standin.port}`,
    journalFolder: folder,
    ratePerSecond: 5000,
    retry: { timeoutMs: 250, retries: 7 },
    agree: async (_: Proposal) => true,
  };
  const state = () => JSON.stringify(standin.snapshot());
  const kept = () => readdir(folder).catch((): readonly string[] => []);
  return { desk, standin, recipe: recipeOn(desk), options, state, kept, writes, reads, folder };
};

describe('push, verify and restore of the library', () => {
  it('set a recipe, prove it, and put back what was found, with a journal of each', async () => {
    const { recipe, options, state, kept } = await rehearsal();
    const before = state();
    const progress: (DeskProgress['stage'] | null)[] = [];
    const pushed = valueFrom(
      await push({ ...options, recipe, onProgress: (told) => progress.push(told?.stage ?? null) }),
    );
    expect([pushed.purpose, pushed.result, pushed.problems]).toEqual(['push', 'done', []]);
    expect(pushed.mixes.map(({ name, state: how }) => [name, how])).toEqual([
      ['Heron', 'applied'],
      ['Lark', 'applied'],
    ]);
    expect(pushed.mixes.map(({ guard }) => guard?.verdict)).toEqual(
      recipe.mixes.filter(({ treatment }) => treatment === 'protect').map(({ guard }) => guard?.verdict),
    );
    expect(progress).toEqual(expect.arrayContaining(['reading', 'writing', null]));
    expect(valueFrom(await verify({ ...options, recipe })).result).toBe('done');

    const journal = JSON.parse(await readFile(pushed.journal ?? '', 'utf8')) as Journal;
    const restored = valueFrom(await restore({ ...options, journal }));
    expect([restored.purpose, restored.result]).toEqual(['restore', 'done']);
    expect(state()).toBe(before);
    expect(await kept()).toHaveLength(2);
    expect(valueFrom(await verify({ ...options, recipe })).result).toBe('falls-short');
  });

  it('take texts as files hold them, JSON or XML', async () => {
    const { recipe, options, standin } = await rehearsal();
    const pushed = valueFrom(await push({ ...options, recipe: writeXml(recipe) }));
    expect(pushed.result).toBe('done');
    expect(valueFrom(await verify({ ...options, recipe: writeJson(recipe) })).result).toBe('done');
    const text = await readFile(pushed.journal ?? '', 'utf8');
    expect(valueFrom(await restore({ ...options, journal: text })).result).toBe('done');
    // The desk the journal came from, where none is named.
    const { to: _, ...elsewhere } = options;
    const again = valueFrom(await restore({ ...elsewhere, journal: text }));
    expect(again.desk).toEqual({ transport: 'udp', host: '127.0.0.1', port: standin.port });
    expect(again.mixes.map(({ state }) => state)).toEqual(['unchanged', 'unchanged']);
  });

  it('write where the answer is true, and nowhere else', async () => {
    const { recipe, options, writes, kept } = await rehearsal();
    const agree = (async () => 'no') as unknown as (proposal: Proposal) => Promise<boolean>;
    expect(valueFrom(await push({ ...options, recipe, agree })).result).toBe('not-agreed');
    expect([writes, await kept()]).toEqual([[], []]);
  });

  it('go by the names that stand when the answer comes', async () => {
    const renamed = new Map(names);
    const { recipe, options, writes, kept } = await rehearsal('log-179', { names: renamed });
    const agree = async (): Promise<boolean> => {
      for (const output of names.keys()) renamed.set(output, 'Bass');
      // A reading is fresh for a quarter of a second.
      await new Promise((resolve) => setTimeout(resolve, 400));
      return true;
    };
    const pushed = valueFrom(await push({ ...options, recipe, agree }));
    expect(pushed.problems.map(({ code }) => code)).toContain('name-differs');
    expect([pushed.result, writes, await kept()]).toEqual(['falls-short', [], []]);
  });

  it('put nothing back at another desk whose outputs go by other names, until told', async () => {
    const first = await rehearsal('log-179');
    const pushed = valueFrom(await push({ ...first.options, recipe: first.recipe }));
    const journal = await readFile(pushed.journal ?? '', 'utf8');
    const other = await rehearsal('log-179', {
      names: new Map([...names.keys()].map((output) => [output, 'Kick'])),
    });
    const stopped = valueFrom(await restore({ ...other.options, journal }));
    expect([stopped.result, other.writes]).toEqual(['falls-short', []]);
    expect(stopped.problems.map(({ code }) => code)).toContain('name-differs');
    const told = valueFrom(await restore({ ...other.options, journal, acceptNames: true }));
    expect(told.result).toBe('done');
  });

  it.each([false, true])(
    'write to no other mix once the desk is renamed, whatever was accepted: %j',
    async (acceptNames) => {
      const renamed = new Map(names);
      const { recipe, options, writes } = await rehearsal('log-179', { names: renamed });
      const onProgress = (progress: DeskProgress | null): void => {
        if (progress?.stage !== 'writing' || progress.index !== 1) return;
        for (const output of names.keys()) renamed.set(output, 'Bass');
      };
      const pushed = valueFrom(await push({ ...options, recipe, onProgress, acceptNames }));
      expect([pushed.result, pushed.problems.map(({ code }) => code)]).toEqual([
        'falls-short',
        ['desk-renamed'],
      ]);
      expect(pushed.problems[0]?.message).toMatch(/output \d+ is called "Bass" now, and was "/);
      expect(pushed.mixes.map(({ state }) => state)).toEqual(['applied', 'untouched']);
      const [, ...others] = recipe.mixes.filter(({ filters }) => filters.length > 0);
      const theirs = writes.filter((address) =>
        others.some(({ outputs }) => address.startsWith(`/mix/${outputs[0]}/`)),
      );
      expect([writes.length > 0, theirs]).toEqual([true, []]);
    },
  );

  it('tell of a desk that is renamed while the last mix is written', async () => {
    const renamed = new Map(names);
    const { recipe, options } = await rehearsal('log-179', { names: renamed });
    const onProgress = (progress: DeskProgress | null): void => {
      if (progress?.stage === 'writing' && progress.index === 2) renamed.set(1, 'Bass');
    };
    const pushed = valueFrom(await push({ ...options, recipe, onProgress }));
    expect([pushed.result, pushed.problems.map(({ code }) => code)]).toEqual([
      'falls-short',
      ['desk-renamed'],
    ]);
  });

  it('put nothing back where outputs go by other names than they did, until told', async () => {
    const renamed = new Map(names);
    const { recipe, options, writes } = await rehearsal('log-179', { names: renamed });
    const pushed = valueFrom(await push({ ...options, recipe }));
    const journal = await readFile(pushed.journal ?? '', 'utf8');
    const before = writes.length;
    for (const output of names.keys()) renamed.set(output, 'Bass');
    const stopped = valueFrom(await restore({ ...options, journal }));
    expect([stopped.result, stopped.problems.map(({ code }) => code), writes.length]).toEqual([
      'falls-short',
      ['name-differs', 'name-differs'],
      before,
    ]);
    expect(valueFrom(await restore({ ...options, journal, acceptNames: true })).result).toBe('done');
  });

  it('put back under the names that were accepted, whatever the recipe calls the mixes', async () => {
    const { recipe, options } = await rehearsal('log-179', {});
    const pushed = valueFrom(await push({ ...options, recipe, acceptNames: true }));
    const journal = await readFile(pushed.journal ?? '', 'utf8');
    expect(valueFrom(await restore({ ...options, journal })).result).toBe('done');
  });

  it('put nothing back where it cannot be read', async () => {
    const { recipe, options, writes, folder } = await rehearsal();
    const pushed = valueFrom(await push({ ...options, recipe }));
    const before = writes.length;
    const journal = JSON.parse(await readFile(pushed.journal ?? '', 'utf8'));
    journal.target.osc.read = 'none';
    const target = join(folder, 'own-target.json');
    await writeFile(target, JSON.stringify(journal.target));
    const changed = { ...options, journal, acceptChanges: true };
    expect(codesOf(await restore(changed))).toEqual(['journal-changed']);
    expect(codesOf(await restore({ ...changed, target }))).toEqual(['desk-unreadable']);
    expect(writes.length).toBe(before);
  });

  it('hold what they are given as objects to the rules that files are held to', async () => {
    const { recipe, options, writes } = await rehearsal();
    const pushed = valueFrom(await push({ ...options, recipe }));
    const before = writes.length;
    const journal = JSON.parse(await readFile(pushed.journal ?? '', 'utf8')) as Journal;
    const spoilt = JSON.parse(JSON.stringify(journal));
    spoilt.mixes
      .at(-1)
      .slots[0].found.find(
        (each: { argument: { number?: number } }) => each.argument.number !== undefined,
      ).argument.number = Number.NaN;
    expect((await restore({ ...options, journal: spoilt })).ok).toBe(false);
    expect((await push({ ...options, recipe: rig as never })).ok).toBe(false);
    expect(writes.length).toBe(before);
  });

  it('put back no journal that was changed, nor, where that is told, what its desk could not show', async () => {
    const { recipe, options, writes, state } = await rehearsal('digits-3');
    const before = state();
    const pushed = valueFrom(await push({ ...options, recipe }));
    const text = await readFile(pushed.journal ?? '', 'utf8');
    const written = writes.length;
    const changed = (parameter: string, number: number): string => {
      const journal = JSON.parse(text);
      const found = journal.mixes[0].slots[0].found;
      found.find((each: { parameter: string }) => each.parameter === parameter).argument.number = number;
      return JSON.stringify(journal);
    };
    // One digit; a gain no desk has; no frequency at all; a switch of two positions.
    const [digit = ''] = /"number": \d+/.exec(text) ?? [];
    for (const journal of [
      text.replace(digit, `${digit.slice(0, -1)}${(Number(digit.at(-1)) + 1) % 10}`),
      text.replace(/,\n {2}"digest": "[0-9a-f]{64}"/, ''),
      changed('gain', 60),
      changed('gain', 1e30),
      changed('frequency', -5),
      changed('on', 7),
    ]) {
      expect(codesOf(await restore({ ...options, journal }))).toEqual(['journal-changed']);
    }
    for (const [parameter, number] of [
      ['gain', 60],
      ['gain', 1e30],
      ['frequency', -5],
      ['on', 7],
    ] as const) {
      const journal = changed(parameter, number);
      expect(codesOf(await restore({ ...options, journal, acceptChanges: true }))).toContain(
        'journal-contradicts',
      );
    }
    // A step the desk has, and not the one the journal says it shows.
    const found = JSON.parse(text).mixes[0].slots[0].found;
    const on = found.find((each: { parameter: string }) => each.parameter === 'on').argument.number;
    const contradiction = { ...options, journal: changed('on', 1 - on), acceptChanges: true };
    expect(codesOf(await restore(contradiction))).toContain('journal-contradicts');
    // Grid, display and address changed alike: then the target is no longer the one there is.
    const alike = JSON.parse(changed('gain', 60));
    alike.target.quantisers.gain = { kind: 'linear', from: -24, to: 60, step: 0.1 };
    alike.target.osc.addresses.gain = '/mute/{output}/{slot}/level';
    for (const mix of alike.mixes)
      for (const { output, slot, found: values } of mix.slots)
        for (const value of values)
          if (value.parameter === 'gain') {
            value.address = `/mute/${output}/${slot}/level`;
            value.display = `${value.argument.number > 0 ? '+' : ''}${value.argument.number.toFixed(1)} dB`;
          }
    expect(codesOf(await restore({ ...options, journal: alike, acceptChanges: true }))).toEqual([
      'journal-changed',
    ]);
    expect(writes.length).toBe(written);

    // A mix taken out on purpose, then the journal as it was.
    const fewer = JSON.parse(text);
    fewer.mixes.pop();
    const some = valueFrom(
      await restore({ ...options, journal: fewer, acceptChanges: true, allowRise: true }),
    );
    expect(some.mixes.map(({ name, state: how }) => [name, how])).toEqual([['Heron', 'applied']]);
    expect(valueFrom(await restore({ ...options, journal: text })).result).toBe('done');
    expect(state()).toBe(before);
  });

  it('tell of an empty journal that nothing had been written', async () => {
    const { options, writes } = await rehearsal();
    const outcome = await restore({ ...options, journal: '' });
    expect(outcome).toMatchObject({
      ok: false,
      error: [{ code: 'journal-empty', message: expect.stringContaining('Nothing had been written') }],
    });
    expect(writes).toEqual([]);
  });

  it('show whoever is asked every value that is sent, those of knobs that sleep too', async () => {
    const { recipe, options, desk } = await rehearsal('log-179');
    const pushed = valueFrom(await push({ ...options, recipe }));
    const journal = await readFile(pushed.journal ?? '', 'utf8');
    let asked: Proposal | null = null;
    const agree = async (proposal: Proposal) => {
      asked = proposal;
      return true;
    };
    const restored = valueFrom(await restore({ ...options, journal, agree }));
    const shown = (asked as Proposal | null)?.mixes.flatMap(({ slots }) => slots) ?? [];
    const written = restored.mixes.flatMap(({ values }) => values).filter(({ found, set }) => found !== set);
    expect(written.length).toBeGreaterThan(10);
    for (const { output, slot, parameter, set } of written) {
      const at = shown.find((each) => each.output === output && each.slot === slot);
      expect({ ...at?.becomes, ...at?.besides }[parameter], `${desk.target.id} ${slot} ${parameter}`).toBe(
        set,
      );
    }
    expect(shown.some(({ besides }) => Object.keys(besides).length > 0)).toBe(true);
  });

  it('raise no level by a journal that was changed, until told, and say what is out of the ordinary', async () => {
    const { recipe, options, writes } = await rehearsal('digits-3');
    const pushed = valueFrom(await push({ ...options, recipe }));
    const journal = JSON.parse(await readFile(pushed.journal ?? '', 'utf8'));
    const found = journal.mixes[0].slots[0].found as {
      parameter: string;
      argument: { number: number };
      display: string;
    }[];
    const typed = (parameter: string, number: number, display: string): void => {
      const value = found.find((each) => each.parameter === parameter);
      if (value) Object.assign(value, { argument: { ...value.argument, number }, display });
    };
    // A bell, which has a gain; types are counted from 0 in the order of the target's file.
    typed('type', 0, 'bell');
    typed('gain', 9, '+9.0 dB');
    const written = writes.length;
    const asked: Proposal[] = [];
    const agree = async (proposal: Proposal) => {
      asked.push(proposal);
      return true;
    };
    const changed = { ...options, journal, agree, acceptChanges: true };
    // The other mix has a gain above 0 dB by itself: of a changed journal nothing is taken on trust.
    expect(codesOf(await restore(changed))).toEqual(['raises-level', 'raises-level']);
    expect([writes.length, asked]).toEqual([written, []]);
    expect(valueFrom(await restore({ ...changed, allowRise: true })).result).toBe('done');
    expect(asked.map(({ isChanged, madeAt }) => [isChanged, madeAt])).toEqual([[true, null]]);
    const elsewhere = await rehearsal('digits-3');
    valueFrom(await push({ ...elsewhere.options, recipe: elsewhere.recipe }));
    const text = await readFile(pushed.journal ?? '', 'utf8');
    expect(valueFrom(await restore({ ...elsewhere.options, journal: text, agree })).result).toBe('done');
    expect(asked.at(-1)).toMatchObject({ isChanged: false, madeAt: { host: '127.0.0.1' } });
  });

  it('find the last push to the desk that is meant', async () => {
    const first = await rehearsal('log-179');
    const second = await rehearsal('log-179');
    const { journalFolder } = first.options;
    const pushed = valueFrom(await push({ ...first.options, recipe: first.recipe }));
    await new Promise((resolve) => setTimeout(resolve, 1100));
    const later = valueFrom(await push({ ...second.options, journalFolder, recipe: second.recipe }));
    const last = async (to?: string) => valueFrom(await lastJournal(journalFolder, to)).journal.path;
    expect(await last()).toBe(later.journal);
    expect(await last(first.options.to)).toBe(pushed.journal);
    expect(await last(second.options.to)).toBe(later.journal);
    expect(codesOf(await lastJournal(journalFolder, '192.0.2.7'))).toEqual(['journal-missing']);
  });

  it('find the last push that was not put back on its own desk', async () => {
    const first = await rehearsal('log-179');
    const second = await rehearsal('log-179');
    const pushed = valueFrom(await push({ ...first.options, recipe: first.recipe }));
    const journal = await readFile(pushed.journal ?? '', 'utf8');
    await new Promise((resolve) => setTimeout(resolve, 1100));
    const { journalFolder } = first.options;
    expect(valueFrom(await restore({ ...second.options, journalFolder, journal })).result).toBe('done');
    expect(valueFrom(await lastJournal(journalFolder)).journal.path).toBe(pushed.journal);
  });

  it('keep what was found before anything is written, and tell whoever is asked where', async () => {
    const { recipe, options, writes, reads, kept } = await rehearsal();
    let asked: Proposal | null = null;
    const seen: unknown[] = [];
    const agree = async (proposal: Proposal) => {
      asked = proposal;
      seen.push(writes.length, reads.length > 0, await kept());
      return true;
    };
    const pushed = valueFrom(await push({ ...options, recipe, agree }));
    const proposal = asked as Proposal | null;
    expect(proposal?.journal).toBe(pushed.journal);
    expect(proposal?.mixes.map(({ name, state }) => [name, state])).toEqual([
      ['Heron', 'to-write'],
      ['Lark', 'to-write'],
    ]);
    // Each slot as it is and as it becomes, in the words of the desk itself.
    const bell = recipe.mixes[0]?.filters.find(({ role }) => role === 'pilot-cut');
    expect(proposal?.mixes[0]?.slots.find(({ slot }) => slot === bell?.slot)?.becomes).toMatchObject({
      on: 'on',
      type: 'bell',
      frequency: bell?.steps.frequency?.display,
    });
    expect(seen.slice(0, 2)).toEqual([0, true]);
    const found = JSON.parse(await readFile(pushed.journal ?? '', 'utf8')) as Journal;
    expect(found.mixes.map(({ name }) => name)).toEqual(['Heron', 'Lark']);
  });

  it('write nothing and keep nothing where nobody agrees', async () => {
    const { recipe, options, writes, kept } = await rehearsal();
    const stopped = valueFrom(await push({ ...options, recipe, agree: async () => false }));
    expect([stopped.result, stopped.journal, writes, await kept()]).toEqual(['not-agreed', null, [], []]);
  });

  it('tell of outputs that go by other names where they only read', async () => {
    const { recipe, options } = await rehearsal('log-179', {});
    valueFrom(await push({ ...options, recipe, acceptNames: true }));
    const verified = valueFrom(await verify({ ...options, recipe }));
    expect([verified.result, verified.otherNames.map(({ mix }) => mix)]).toEqual([
      'done',
      ['Heron', 'Heron', 'Lark'],
    ]);
  });

  it('write nothing where outputs go by other names', async () => {
    const { recipe, options, writes } = await rehearsal('log-179', {});
    const nameless = valueFrom(await push({ ...options, recipe }));
    expect([nameless.result, nameless.problems.map(({ code }) => code)]).toEqual([
      'falls-short',
      ['name-differs', 'name-differs'],
    ]);
    expect(nameless.problems[0]?.message).toContain('acceptNames');
    expect(writes).toEqual([]);
  });

  it('write nothing where a level would be raised, or no journal can be kept', async () => {
    const { recipe, options, writes, folder } = await rehearsal();
    // On this target gains go from -24 to 12 dB by 0.1 dB: step 300 of 361 is +6 dB.
    const gain = { index: 300, of: 361, display: '+6.0 dB', fromBottom: 300, fromTop: 60 };
    const raised = {
      ...recipe,
      mixes: recipe.mixes.map((mix) => ({
        ...mix,
        filters: mix.filters.map((placed) =>
          placed.steps.gain
            ? { ...placed, set: { ...placed.set, gainDb: 6 }, steps: { ...placed.steps, gain } }
            : placed,
        ),
      })),
    };
    const loud = await push({ ...options, recipe: JSON.stringify(raised), acceptNames: true });
    expect(codesOf(loud)).toEqual(['raises-level', 'raises-level']);
    expect(loud.ok ? '' : loud.error[0]?.message).toContain('allowRise');
    const nowhere = await push({
      ...options,
      recipe,
      acceptNames: true,
      journalFolder: join('/dev/null', folder),
    });
    expect(codesOf(nowhere)).toEqual(['journal-unwritable']);
    expect(writes).toEqual([]);
  });

  it('write to a desk that cannot be read only when told', async () => {
    const { recipe, options, writes, kept } = await rehearsal('controller-128');
    expect(codesOf(await push({ ...options, recipe }))).toEqual(['usage']);
    expect(writes).toEqual([]);
    const blind = valueFrom(await push({ ...options, recipe, blind: true }));
    expect([blind.result, blind.journal, await kept()]).toEqual(['falls-short', null, []]);
    expect(blind.mixes.map(({ state }) => state)).toEqual(['sent', 'sent']);
    expect(codesOf(await verify({ ...options, recipe }))).toEqual(['osc-unreadable']);
  });

  it('do nothing once they are broken off', async () => {
    const { recipe, options, writes, reads } = await rehearsal();
    const signal = AbortSignal.abort();
    expect(codesOf(await push({ ...options, recipe, signal }))).toEqual(['interrupted']);
    expect(codesOf(await verify({ ...options, recipe, signal }))).toEqual(['interrupted']);
    const during = new AbortController();
    const agree = async () => {
      during.abort();
      return true;
    };
    const stopped = valueFrom(await push({ ...options, recipe, agree, signal: during.signal }));
    expect(stopped.mixes.map(({ state }) => state)).toEqual(['untouched', 'untouched']);
    expect([stopped.result, writes, reads.length > 0]).toEqual(['interrupted', [], true]);
  });

  it('refuse a mix there is none of, a place that is none, a transport the desk has not, a rate that is none', async () => {
    const { recipe, options } = await rehearsal();
    const refused = async (more: object) => {
      const done = await push({ ...options, recipe, ...more });
      return done.ok ? [] : done.error.map(({ code, path }) => [code, path]);
    };
    expect(await refused({ only: ['Wren'] })).toEqual([['usage', 'only']]);
    expect(await refused({ to: 'no place' })).toEqual([['usage', 'to']]);
    expect(await refused({ transport: 'tcp-length-prefix' })).toEqual([['usage', 'transport']]);
    expect(await refused({ to: '255.255.255.255' })).toEqual([['destination-refused', '']]);
    expect(await refused({ ratePerSecond: 0 })).toEqual([['usage', 'ratePerSecond']]);
    expect(await refused({ ratePerSecond: Number.NaN })).toEqual([['usage', 'ratePerSecond']]);
    expect(await refused({ retry: { timeoutMs: 0, retries: 7 } })).toEqual([['usage', 'retry']]);
    expect(await refused({ retry: { timeoutMs: 250, retries: -1 } })).toEqual([['usage', 'retry']]);
    const { to: _, ...nowhere } = options;
    expect(codesOf(await push({ ...nowhere, recipe }))).toEqual(['usage']);
  });
});

describe('a dry run of the library', () => {
  it('tells the messages that a push then sends, and sends none of them', async () => {
    const { recipe, options, writes } = await rehearsal();
    const dry = valueFrom(await dryRun({ ...options, recipe }));
    expect([dry.isFromDesk, writes]).toEqual([true, []]);
    await push({ ...options, recipe });
    expect(dry.messages?.map(({ address }) => address)).toEqual(writes);
    const { to: _, ...nowhere } = options;
    expect(valueFrom(await dryRun({ ...nowhere, recipe })).isFromDesk).toBe(false);
  });
});

describe('an inspection of the library', () => {
  it('tells which mixes leave their pilots at risk, and that none does once a recipe stands that guards them', async () => {
    const { desk, recipe, options, writes } = await rehearsal();
    // As much as the recipe takes, and no more, is asked.
    const least = Math.min(...recipe.mixes.flatMap(({ guard }) => guard?.worst.pilotAttenuationDb ?? []));
    const asking = { ...rig, guard: { pilotAttenuationAtLeastDb: db(Math.floor(least)) } };
    await push({ ...options, recipe });
    const count = writes.length;
    const stands = valueFrom(await inspect({ ...options, rig: asking, target: desk.target.id }));
    expect(stands.mixes.map(({ name, state }) => [name, state])).toEqual([
      ['Heron', 'safe'],
      ['Lark', 'safe'],
    ]);
    expect(stands.result).toBe('done');
    expect(stands.leftAlone.map(({ name }) => name)).toEqual(['Drums', 'Choir']);
    // A pilot cut that a person wrote stays where it is put, so that there is little to search for what would do better.
    const own = { role: 'pilot-cut', type: 'peaking', frequencyHz: 19000, q: 8, gainDb: -6 };
    const text = JSON.stringify({ ...rig, intents: [own], guard: { pilotAttenuationAtLeastDb: 100 } });
    expect(valueFrom(await inspect({ ...options, rig: text, target: desk })).result).toBe('falls-short');
    expect(writes).toHaveLength(count);
    expect(codesOf(await inspect({ ...options, rig, target: desk, spareSlots: -1 }))).toEqual(['usage']);
  });
});

describe('the last journal', () => {
  it('is the newest of a push that has not been put back whole', async () => {
    const { recipe, options, folder } = await rehearsal();
    expect(codesOf(await lastJournal(folder))).toEqual(['journal-missing']);
    const first = valueFrom(await push({ ...options, recipe, only: ['Heron'] }));
    const second = valueFrom(await push({ ...options, recipe }));
    const last = async () => valueFrom(await lastJournal(folder)).journal.path;
    expect(await last()).toBe(second.journal);
    // Lark alone stood otherwise before the second push.
    const journal = await readFile(second.journal ?? '', 'utf8');
    await restore({ ...options, journal, agree: async () => false });
    expect(await last()).toBe(second.journal);
    valueFrom(await restore({ ...options, journal }));
    expect(await last()).toBe(first.journal);
    valueFrom(await restore({ ...options, journal: await readFile(first.journal ?? '', 'utf8') }));
    expect(codesOf(await lastJournal(folder))).toEqual(['journal-missing']);
  });

  it('is still to be put back where only some of its mixes were', async () => {
    const { recipe, options, folder } = await rehearsal();
    const pushed = valueFrom(await push({ ...options, recipe }));
    const journal = await readFile(pushed.journal ?? '', 'utf8');
    valueFrom(await restore({ ...options, journal, only: ['Lark'] }));
    expect(valueFrom(await lastJournal(folder)).journal.path).toBe(pushed.journal);
  });
});
