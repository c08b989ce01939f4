import { createSocket } from 'node:dgram';
import { mkdir, writeFile } from 'node:fs/promises';
import type { AddressInfo } from 'node:net';
import { join } from 'node:path';
import { expect, it, onTestFinished } from 'vitest';
import { writeJson } from '../../../src/documents/write-json.js';
import { db, hz, q } from '../../../src/units/quantity.js';
import { recipeOn, rig } from '../../live/recipe-on.js';
import { run, scratchFolder } from '../run.js';
import { lies, rehearse, type Told, told } from './rehearsal.js';

/** A pilot cut that another engineer might want. */
const shallowCut = {
  role: 'pilot-cut',
  type: 'peaking',
  frequencyHz: hz(18900),
  q: q(4),
  gainDb: db(-9),
} as const;

/** A way to the desk of one computer's own, which is told of every packet before the desk has it. */
const wayTo = async (deskPort: number, onPacket: (packet: Buffer) => void): Promise<number> => {
  const [inner, outer] = [createSocket('udp4'), createSocket('udp4')];
  let computerPort = 0;
  inner.on('message', (packet, from) => {
    computerPort = from.port;
    onPacket(packet);
    outer.send(packet, deskPort, '127.0.0.1');
  });
  outer.on('message', (answer) => inner.send(answer, computerPort, '127.0.0.1'));
  await new Promise<void>((resolve) => inner.bind(0, '127.0.0.1', resolve));
  onTestFinished(() => {
    inner.close();
    outer.close();
  });
  return (inner.address() as AddressInfo).port;
};

/** An OSC address stands at the beginning of a packet, ended by a zero byte (OSC 1.0, OSC Message). */
const addressOf = (packet: Buffer): string => packet.toString('latin1', 0, packet.indexOf(0));

it('two computers push at once: of every mix, whoever wrote to it last tells truly how it was left', async () => {
  const rehearsal = await rehearse(await scratchFolder(), { target: 'digits-3', seed: 6 });
  onTestFinished(rehearsal.close);
  const before = rehearsal.snapshot();
  const other = join(rehearsal.journals, '..', 'other.json');
  await writeFile(other, writeJson(recipeOn(rehearsal.desk, { ...rig, intents: [shallowCut] })));

  // A write differs from a question at the same address by its argument: this desk takes type tags with one letter.
  const isWrite = (packet: Buffer): boolean => /,[if]/.test(packet.toString('latin1'));
  const lastWriter = new Map<string, number>();
  const reports = await Promise.all(
    [rehearsal.recipe, other].map(async (recipe, computer): Promise<Told> => {
      // Each by a port of its own, which no lock of the other is for, as on a computer of its own.
      const own = join(rehearsal.journals, '..', `computer-${computer}`);
      await mkdir(own);
      const env = { BANDWRIGHT_JOURNALS: join(own, 'journals') };
      const port = await wayTo(rehearsal.port, (packet) => {
        const output = /^\/mix\/(\d+)\//.exec(addressOf(packet))?.[1];
        if (output !== undefined && isWrite(packet)) lastWriter.set(output, computer);
      });
      const flags = ['--rate', '300', '--yes', '--accept-names', '--json', '--to', `127.0.0.1:${port}`];
      return told(await run(['push', recipe, ...flags], { env }));
    }),
  );

  expect(new Set(lastWriter.keys())).toEqual(new Set(['1', '5']));
  const untrue = reports.flatMap((report, computer) => {
    const mixes = report.mixes.filter(({ values }) =>
      values.some(({ output }) => lastWriter.get(`${output}`) === computer),
    );
    return lies({ ...report, mixes }, before, rehearsal.snapshot(), rehearsal.desk);
  });
  expect(untrue).toEqual([]);
});
