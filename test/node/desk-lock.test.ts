import { chmod, mkdir, readdir, rename, symlink, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { describe, expect, it, onTestFinished, vi } from 'vitest';
import { type DeskLock, lockDesk, lockFolder } from '../../src/node/desk-lock.js';
import { bundle, type Child, scratchFolder, startChild } from './child.js';

const desk = { address: '192.0.2.7', port: 9000 };

/** A process that locks and unlocks a desk as it is told, and ends as it is told. */
const holder = `
import { mkdir, rmdir } from 'node:fs/promises';
import { createInterface } from 'node:readline';
import { setTimeout as wait } from 'node:timers/promises';
import { lockDesk } from '../../src/node/desk-lock.ts';

const [folder, inside] = process.argv.slice(2);
const desk = ${JSON.stringify(desk)};
let lock = null;
const works = {
  lock: async () => {
    const outcome = await lockDesk(folder, desk);
    lock = outcome.ok ? outcome.value : null;
    return outcome.ok ? 'mine' : outcome.error[0].code;
  },
  release: async () => {
    await lock?.release();
    return 'released';
  },
  // Goes in and out; two inside at once would make the same folder, and the second mkdir would throw.
  contest: async () => {
    let times = 0;
    for (let round = 0; round < 12; round++) {
      const outcome = await lockDesk(folder, desk);
      if (!outcome.ok) continue;
      await mkdir(inside);
      await wait(3);
      await rmdir(inside);
      await outcome.value.release();
      times++;
    }
    return String(times);
  },
  exit: () => process.exit(3),
};
for await (const line of createInterface({ input: process.stdin })) console.log(await works[line]());
`;

const startHolders = async (folder: string, count: number): Promise<readonly Child[]> => {
  const scratch = await scratchFolder();
  const file = await bundle(holder, scratch);
  return Array.from({ length: count }, () => startChild(file, [folder, join(scratch, 'inside')]));
};

const held = async (outcome: ReturnType<typeof lockDesk>): Promise<DeskLock> => {
  const lock = await outcome;
  if (!lock.ok) throw new Error(lock.error.map(({ message }) => message).join('\n'));
  return lock.value;
};

const codeOf = async (outcome: ReturnType<typeof lockDesk>): Promise<string> => {
  const lock = await outcome;
  return lock.ok ? 'mine' : (lock.error[0]?.code ?? '');
};

describe('a desk', () => {
  it('belongs to whoever locked it, until it is released', async () => {
    const folder = join(await scratchFolder(), 'new', 'folder');
    const lock = await held(lockDesk(folder, desk));
    expect(await codeOf(lockDesk(folder, desk))).toBe('desk-busy');
    await lock.release();
    await lock.release();
    expect(await readdir(folder)).toEqual([]);
    await (await held(lockDesk(folder, desk))).release();
  });

  it('is another one at another address or port, and the same in capitals', async () => {
    const folder = await scratchFolder();
    const first = await held(lockDesk(folder, { address: 'fe80::a%eth0', port: 9000 }));
    const others = [{ address: 'fe80::b%eth0', port: 9000 }, { address: 'fe80::a', port: 9000 }, desk];
    for (const other of others) await (await held(lockDesk(folder, other))).release();
    expect(await codeOf(lockDesk(folder, { address: 'FE80:0::A%eth0', port: 9000 }))).toBe('desk-busy');
    await first.release();
  });

  it.each([
    ['192.0.2.7', '192.0.2.7'],
    ['192.0.2.7', '::ffff:192.0.2.7'],
    ['192.0.2.7', '::ffff:c000:207'],
    ['2001:db8::7', '2001:DB8:0:0::0007'],
  ])('is the same at every port, and however it is written: %s and %s', async (address, other) => {
    const folder = await scratchFolder();
    const first = await held(lockDesk(folder, { address, port: 9000 }));
    expect(await codeOf(lockDesk(folder, { address: other, port: 9001 }))).toBe('desk-busy');
    await first.release();
  });

  it.skipIf(process.getuid === undefined)('cannot be locked where others could undo it', async () => {
    const scratch = await scratchFolder();
    const open = join(scratch, 'open');
    await mkdir(join(open, 'desks'), { recursive: true, mode: 0o700 });
    await chmod(open, 0o777);
    expect(await codeOf(lockDesk(join(open, 'desks'), desk))).toBe('lock-unwritable');
    await chmod(open, 0o700);
    await symlink(join(open, 'desks'), join(open, 'link'));
    expect(await codeOf(lockDesk(join(open, 'link'), desk))).toBe('lock-unwritable');
    await (await held(lockDesk(join(open, 'desks'), desk))).release();
  });

  it('is another one at another port of this computer', async () => {
    const folder = await scratchFolder();
    const first = await held(lockDesk(folder, { address: '127.0.0.1', port: 9000 }));
    await (await held(lockDesk(folder, { address: '127.0.0.1', port: 9001 }))).release();
    for (const address of ['::ffff:127.0.0.1', '127.0.0.2', '::1'])
      expect(await codeOf(lockDesk(folder, { address, port: 9000 }))).toBe('desk-busy');
    await first.release();
  });

  it('is looked for in one place, whatever the environment says', async () => {
    const before = lockFolder();
    const scratch = await scratchFolder();
    for (const name of [
      'TMPDIR',
      'TMP',
      'TEMP',
      'HOME',
      'XDG_RUNTIME_DIR',
      'XDG_STATE_HOME',
      'XDG_CACHE_HOME',
    ])
      vi.stubEnv(name, scratch);
    onTestFinished(() => {
      vi.unstubAllEnvs();
    });
    expect(lockFolder()).toBe(before);
  });

  it('that is busy is told with who has it, since when, and what to do', async () => {
    const folder = await scratchFolder();
    const [child] = await startHolders(folder, 1);
    const before = new Date().toISOString().slice(0, 16).replace('T', ' ');
    expect(await child?.ask('lock')).toBe('mine');
    const outcome = await lockDesk(folder, desk);
    const message = outcome.ok ? '' : (outcome.error[0]?.message ?? '');
    expect(message).toContain('192.0.2.7:9000, at whichever port, ');
    expect(message).toContain(`process ${child?.process.pid} of this computer`);
    const since = /since (\d{4}-\d\d-\d\d \d\d:\d\d):\d\d UTC/.exec(message)?.[1] ?? '';
    expect([before, new Date().toISOString().slice(0, 16).replace('T', ' ')]).toContain(since);
    const [file = ''] = await readdir(folder);
    expect(message).toContain(`remove ${join(folder, file)}`);
  });

  it('cannot be locked where no file can be made', async () => {
    const folder = await scratchFolder();
    await writeFile(join(folder, 'file'), '');
    const outcome = await lockDesk(join(folder, 'file', 'journals'), desk);
    expect(outcome).toMatchObject({
      ok: false,
      error: [{ code: 'lock-unwritable', message: expect.stringContaining(join(folder, 'file')) }],
    });
  });
});

describe('of many processes at once', () => {
  it('exactly one gets the desk, also where others left their locks behind', async () => {
    const folder = await scratchFolder();
    const children = await startHolders(folder, 8);
    const killed = await startHolders(folder, 1);
    expect(await killed[0]?.ask('lock')).toBe('mine');
    killed[0]?.process.kill('SIGKILL');
    await killed[0]?.ended;
    expect(await readdir(folder)).toHaveLength(1);
    for (let round = 0; round < 5; round++) {
      const answers = await Promise.all(children.map((child) => child.ask('lock')));
      expect(answers.toSorted()).toEqual([...Array(7).fill('desk-busy'), 'mine']);
      await Promise.all(children.map((child) => child.ask('release')));
      expect(await readdir(folder)).toEqual([]);
    }
  });

  it('never two have it, however often they come and go', async () => {
    const folder = await scratchFolder();
    const children = await startHolders(folder, 6);
    const times = await Promise.all(children.map((child) => child.ask('contest')));
    expect(Math.min(...times.map(Number))).toBeGreaterThan(0);
    expect(await readdir(folder)).toEqual([]);
  });
});

describe('a lock whose process has gone', () => {
  it('holds nobody up: killed', async () => {
    const folder = await scratchFolder();
    const [child] = await startHolders(folder, 1);
    expect(await child?.ask('lock')).toBe('mine');
    expect(await codeOf(lockDesk(folder, desk))).toBe('desk-busy');
    child?.process.kill('SIGKILL');
    await child?.ended;
    expect(await readdir(folder)).toHaveLength(1);
    const lock = await held(lockDesk(folder, desk));
    expect(await readdir(folder)).toHaveLength(1);
    await lock.release();
    expect(await readdir(folder)).toEqual([]);
  });

  it('is removed by a process that ends by itself', async () => {
    const folder = await scratchFolder();
    const [child] = await startHolders(folder, 1);
    expect(await child?.ask('lock')).toBe('mine');
    child?.process.stdin?.write('exit\n');
    expect(await child?.ended).toBe(3);
    expect(await readdir(folder)).toEqual([]);
  });

  // Only Linux tells when a process began.
  it.runIf(process.platform === 'linux')('is told from one of a later process of that number', async () => {
    const folder = await scratchFolder();
    const lock = await held(lockDesk(folder, desk));
    const [name = ''] = await readdir(folder);
    const before = name.replace(/@\d+(?=@[\da-f]{16}\.lock$)/, '@1');
    expect(before).not.toBe(name);
    await rename(join(folder, name), join(folder, before));
    await (await held(lockDesk(folder, desk))).release();
    expect(await readdir(folder)).toEqual([]);
    await lock.release();
  });

  it('is no other file', async () => {
    const folder = await scratchFolder();
    const others = ['.desk@192.0.2.7@9000@notes.lock', '.desk@192.0.2.7@90000', 'journal.json'];
    for (const other of others) await writeFile(join(folder, other), '');
    await (await held(lockDesk(folder, desk))).release();
    expect((await readdir(folder)).sort()).toEqual(others.toSorted());
  });
});
