import { mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { projectRoot, run } from './run.js';

/**
 * The worked examples of the README are what the tool really prints. `README_EXAMPLES=write npx vitest run
 * test/end-to-end/readme.test.ts` renews them; read what changed before you keep it.
 */
const readmePath = join(projectRoot, 'README.md');
const example = /<!-- example: (?<command>.+) -->\n```text\n(?<shown>[\s\S]*?)```/g;
const rigExample = /<!-- file: show\.json -->\n```json\n(?<rig>[\s\S]*?)```/;

let readme = await readFile(readmePath, 'utf8');
const folder = await mkdtemp(join(tmpdir(), 'bandwright-readme-'));
const rig = rigExample.exec(readme)?.groups?.rig;
if (rig === undefined) throw new Error('the README shows no show.json');
await writeFile(join(folder, 'show.json'), rig);

const examples = await Promise.all(
  [...readme.matchAll(example)].map(async ({ 0: whole, groups }) => {
    const command = groups?.command ?? '';
    const { stdout } = await run(command.split(' '), { cwd: folder });
    return { whole, command, shown: groups?.shown ?? '', printed: stdout.toString('utf8') };
  }),
);

if (process.env.README_EXAMPLES === 'write') {
  for (const { whole, command, printed } of examples) {
    readme = readme.replace(whole, () => `<!-- example: ${command} -->\n\`\`\`text\n${printed}\`\`\``);
  }
  await writeFile(readmePath, readme);
}

afterAll(() => rm(folder, { recursive: true }));

describe('the README', () => {
  it('shows a recipe and a check', () => {
    expect(examples.map(({ command }) => command.split(' ')[0])).toEqual(
      expect.arrayContaining(['recipe', 'check']),
    );
  });

  it.each(examples)('shows what "bandwright $command" prints', ({ shown, printed }) => {
    expect(shown).toBe(printed);
  });
});
