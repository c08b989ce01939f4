// Makes one declaration file a door, with what can be reached from its exports and nothing else. Exported names are
// declared once in all of src/, so that declarations can stand together as they are.
import { spawnSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { dirname, join, resolve } from 'node:path';
import { parseSync, Visitor } from 'oxc-parser';

const compiler = resolve(import.meta.dirname, '../node_modules/typescript/bin/tsc');

/** A statement with the comment right before it. */
const withComment = (source, comments, { start, end }) => {
  const comment = comments.findLast((each) => each.end <= start);
  const isIts = comment && /^\s*$/.test(source.slice(comment.end, start));
  return source.slice(isIts ? comment.start : start, end);
};

const nameOf = (node) => node.id?.name ?? node.declarations?.[0]?.id.name;

/** Every name a statement refers to, but for those it only gives to properties, parameters and the like. */
const namesIn = (statement) => {
  const names = new Set();
  new Visitor({
    TSTypeReference: ({ typeName }) => names.add((typeName.left ?? typeName).name),
    TSTypeQuery: ({ exprName }) => names.add((exprName.left ?? exprName).name),
    TSInterfaceHeritage: ({ expression }) => names.add(expression.name),
    MemberExpression: ({ object }) => names.add(object.name),
    TSPropertySignature: ({ key, computed }) => computed && names.add(key.name),
  }).visit({ type: 'Program', body: [statement], sourceType: 'module', start: 0, end: 0 });
  return names;
};

/** What one file declares and imports; names lead to declarations or to other files. */
const readModule = (path) => {
  const module = { declared: new Map(), elsewhere: new Map(), exported: new Set(), all: [] };
  const fileOf = (specifier) => join(dirname(path), specifier.replace(/\.js$/, '.d.ts'));
  const inferred = /import\("(?<specifier>\.[^"]+)"\)\.(?<name>\w+)/g;
  const source = readFileSync(path, 'utf8').replace(inferred, (_, specifier, name) => {
    module.elsewhere.set(name, { path: fileOf(specifier), name });
    return name;
  });
  const { program, comments } = parseSync(path, source);
  for (const statement of program.body) {
    const from = statement.source && fileOf(statement.source.value);
    if (statement.type === 'ExportAllDeclaration') module.all.push(from);
    for (const { local, imported, exported } of statement.specifiers ?? []) {
      const name = (exported ?? local).name;
      if (exported) module.exported.add(name);
      if (!from) continue;
      module.elsewhere.set(name, { path: from, name: (exported ? local : imported).name });
    }
    const declaration = statement.declaration ?? statement;
    const name = nameOf(declaration);
    if (from || name === undefined) continue;
    const known = module.declared.get(name) ?? { name, path, texts: [], names: new Set(), isExported: false };
    known.texts.push(withComment(source, comments, statement));
    for (const each of namesIn(declaration)) known.names.add(each);
    known.isExported ||= statement !== declaration;
    module.declared.set(name, known);
  }
  return module;
};

/** The declarations of a door; what is not exported is there for those that are. */
const textOf = (reached, fromMain, exported) => {
  const namesOf = (declarations) =>
    declarations
      .map(({ name }) => name)
      .sort()
      .join(', ');
  const again = fromMain.filter((each) => exported.has(each));
  const used = fromMain.filter((each) => !exported.has(each));
  const twice = reached.find(({ name }, index) => reached.findIndex((each) => each.name === name) !== index);
  if (twice) throw new Error(`${twice.name} is declared twice in src/, in ${twice.path} and elsewhere`);
  return [
    ...(used.length > 0 ? [`import type { ${namesOf(used)} } from './index.js';`] : []),
    ...(again.length > 0 ? [`export { ${namesOf(again)} } from './index.js';`] : []),
    ...reached.flatMap((each) =>
      each.texts.map((text) => (exported.has(each) ? text : text.replace(/^export /m, ''))),
    ),
    'export {};\n',
  ].join('\n');
};

/**
 * The declarations of doors, given by name and source: their texts by the same names. The others lean on the one called
 * `index`. Throws where the types are wrong.
 */
export const declarationsOf = async (doors) => {
  const folder = await mkdtemp(join(tmpdir(), 'bandwright-types-'));
  try {
    const emit = ['--noEmit', 'false', '--declaration', '--emitDeclarationOnly', '--outDir', folder];
    const args = [compiler, '--project', 'tsconfig.json', ...emit];
    const { status } = spawnSync(process.execPath, args, { stdio: 'inherit' });
    if (status !== 0) throw new Error('the types are wrong: the compiler told where');
    const modules = new Map();
    const moduleOf = (path) => modules.get(path) ?? modules.set(path, readModule(path)).get(path);

    /** Where a name of a file is declared; undefined for what TypeScript has itself. */
    const find = (path, name) => {
      const { declared, elsewhere, all } = moduleOf(path);
      if (declared.has(name)) return declared.get(name);
      if (elsewhere.has(name)) return find(elsewhere.get(name).path, elsewhere.get(name).name);
      return all.map((each) => find(each, name)).find(Boolean);
    };
    const exportsOf = (path) => {
      const { declared, exported, all } = moduleOf(path);
      const own = [...declared.values()].filter(({ isExported }) => isExported);
      return [...own, ...[...exported].map((name) => find(path, name)), ...all.flatMap(exportsOf)];
    };

    const texts = {};
    const main = new Set();
    for (const [door, source] of Object.entries(doors)) {
      const path = join(folder, source.replace(/^src\//, '').replace(/\.ts$/, '.d.ts'));
      const exported = new Set(exportsOf(path));
      const reached = new Set();
      const shared = new Set();
      const reach = (declaration) => {
        if (main.has(declaration)) shared.add(declaration);
        else reached.add(declaration);
      };
      for (const each of exported) reach(each);
      for (const { path: from, names } of reached) {
        for (const name of names) {
          const found = find(from, name);
          if (found) reach(found);
        }
      }
      texts[door] = textOf([...reached], [...shared], exported);
      if (door === 'index') for (const each of reached) main.add(each);
    }
    return texts;
  } finally {
    await rm(folder, { recursive: true, force: true });
  }
};
