import { mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { projectRoot, run } from './run.js';

/**
 * The worked examples of the README are what the tool really prints, down to a line of three dots where there is one. `README_EXAMPLES=write npx vitest run
 * test/end-to-end/readme.test.ts` renews them; read what changed before you keep it.
 */
const readmePath = join(projectRoot, 'README.md');
const example = /<!-- example: (?<command>.+) -->\n```text\n(?<shown>[\s\S]*?)```/g;
const leftOut = '...\n';
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
  for (const { whole, command, shown, printed } of examples) {
    // As many lines as were shown before, so look at where that ends.
    const kept = printed.split('\n').slice(0, shown.split('\n').length - 2);
    const text = shown.endsWith(leftOut) ? `${kept.join('\n')}\n${leftOut}` : printed;
    readme = readme.replace(whole, () => `<!-- example: ${command} -->\n\`\`\`text\n${text}\`\`\``);
  }
  await writeFile(readmePath, readme);
}

afterAll(() => rm(folder, { recursive: true }));

describe('the README', () => {
  it('shows a recipe', () => {
    expect(examples.map(({ command }) => command.split(' ')[0])).toContain('recipe');
  });

  it.each(examples)('shows what "bandwright $command" prints', ({ shown, printed }) => {
    if (!shown.endsWith(leftOut)) expect(shown).toBe(printed);
    else {
      const begun = shown.slice(0, -leftOut.length);
      expect(begun.split('\n').length).toBeGreaterThan(20);
      expect(printed.slice(0, begun.length)).toBe(begun);
    }
  });
});
