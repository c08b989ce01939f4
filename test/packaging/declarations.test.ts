import { readFile } from 'node:fs/promises';
import { join, posix } from 'node:path';
import { parseSync } from 'oxc-parser';
import { describe, expect, it } from 'vitest';
import { runProgram } from '../end-to-end/run.js';
import { doorsOf, makeProject, manifestOf, pack, succeeded } from './packed.js';

const packed = await pack();
const { root, paths } = packed;
const project = await makeProject(packed, 'declared');
const doors = doorsOf(await manifestOf(packed));

describe('declarations', () => {
  /** Every type of a file that is there without being exported. */
  const forgotten = (source: string): readonly string[] =>
    parseSync('door.d.ts', source).program.body.flatMap((statement) => {
      if (/^TS(Interface|TypeAlias)Declaration$/.test(statement.type)) {
        return [(statement as { readonly id: { readonly name: string } }).id.name];
      }
      // A symbol that only brands numbers is nobody's to use.
      const isBrand = /: unique symbol;$/.test(source.slice(statement.start, statement.end));
      return statement.type === 'VariableDeclaration' && !isBrand
        ? [source.slice(statement.start, statement.end)]
        : [];
    });

  it.each(doors)('of $name export every type that can be reached', async ({ types }) => {
    const source = await readFile(join(root, types), 'utf8');
    expect(source).toMatch(/^export (declare const|interface|type) /m);
    expect(forgotten(source)).toEqual([]);
  });

  it('would be found out', () => {
    expect(
      forgotten(
        'type A = 1;\ndeclare const b: unique symbol;\ninterface C {}\nexport type D = A;\ndeclare const e: 1;',
      ),
    ).toEqual(['A', 'C', 'declare const e: 1;']);
  });

  /** Every value that declarations export; those that are exported from the main door go by what it declares. */
  const declaredValues = (source: string, fromMain: readonly string[] = []): readonly string[] =>
    parseSync('door.d.ts', source).program.body.flatMap((statement) => {
      if (statement.type !== 'ExportNamedDeclaration') return [];
      const again = statement.specifiers.flatMap(({ exported }) =>
        exported.type === 'Identifier' ? exported.name : [],
      );
      const declared = statement.declaration;
      const names =
        declared?.type === 'VariableDeclaration'
          ? declared.declarations.flatMap(({ id }) => (id.type === 'Identifier' ? id.name : []))
          : declared?.type === 'FunctionDeclaration' || declared?.type === 'ClassDeclaration'
            ? [declared.id?.name ?? '']
            : [];
      return [...names, ...again.filter((name) => fromMain.includes(name))];
    });

  it.each(doors)('of $name declare the values there are', async ({ types, name }) => {
    const main = declaredValues(await readFile(join(root, 'dist/index.d.ts'), 'utf8'));
    const door = JSON.stringify(posix.join('bandwright', name));
    const script = `console.log(JSON.stringify(Object.keys(await import(${door}))));`;
    const args = ['--input-type=module', '--eval', script];
    const values = JSON.parse(succeeded(await runProgram(process.execPath, args, { cwd: project })));
    expect(values.length).toBeGreaterThan(0);
    expect(declaredValues(await readFile(join(root, types), 'utf8'), main).toSorted()).toEqual(values);
  });

  it('are there for the doors only', () => {
    expect(paths.filter((path) => path.endsWith('.d.ts'))).toEqual([
      'dist/index.d.ts',
      'dist/node.d.ts',
      'dist/standin.d.ts',
    ]);
  });
});
