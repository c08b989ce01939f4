// Bundles src/ into dist/, in two ways:
// - the doors of the library as ES modules, a file a room, so that whoever imports a parser bundles a few kilobytes;
// - the program as CommonJS, which Node.js starts sooner, in few files, of which a command loads what it uses.
import { chmod, mkdir, readFile, rm } from 'node:fs/promises';
import { relative, resolve, sep } from 'node:path';
import { parseSync } from 'oxc-parser';
import { rolldown } from 'rolldown';
import { bundleDeclarations } from './declarations.mjs';
import { writeNotices } from './notices.mjs';

const root = resolve(import.meta.dirname, '..');
const inProject = (id) => relative(root, id).split(sep).join('/');

/** The doors of the library, by the names of their files. */
const doors = { index: 'src/index.ts', node: 'src/node/index.ts', standin: 'src/node/standin/index.ts' };

/**
 * What packages ask for and we never use: osc-js its own sockets, commander programs as subcommands. Loading them would
 * cost every start some milliseconds, and keep the library out of browsers.
 */
const unused = { 'osc-js': ['ws', 'dgram'], commander: ['node:child_process'] };

const withoutUnused = {
  name: 'without-unused',
  resolveId(source, importer = '') {
    const asked = Object.entries(unused).some(
      ([name, parts]) => importer.includes(`/node_modules/${name}/`) && parts.includes(source),
    );
    return asked ? '\0unused' : null;
  },
  load: (id) => (id === '\0unused' ? 'export default {};' : null),
};

/**
 * Parts of the program that not every run needs: each is a file of its own, and loaded when one of its functions is
 * first called. The sources import them like any other; they may export functions only.
 */
const deferred = [
  'src/documents/tell-faults.ts',
  'src/documents/write-json.ts',
  'src/documents/write-xml.ts',
  'src/documents/xml/parse-xml.ts',
  'src/node/threads/pool.ts',
  'src/osc/codec.ts',
];

const nameOf = (path) => path.replace(/^.*\/|\.ts$/g, '');

const isFunction = (node) => node?.type === 'ArrowFunctionExpression' || node?.type === 'FunctionExpression';

/** The functions a module exports. */
const functionsOf = (path, source) =>
  parseSync(path, source).program.body.flatMap((statement) => {
    if (statement.type !== 'ExportNamedDeclaration' || statement.exportKind === 'type') return [];
    const { declaration } = statement;
    if (/^TS(Interface|TypeAlias)/.test(declaration?.type ?? '')) return [];
    if (
      declaration?.type !== 'VariableDeclaration' ||
      !declaration.declarations.every((each) => isFunction(each.init))
    ) {
      throw new Error(`${path} exports more than functions, so it cannot be loaded when one is called`);
    }
    return declaration.declarations.map(({ id }) => id.name);
  });

const deferring = {
  name: 'deferring',
  async resolveId(source, importer, { isEntry }) {
    if (isEntry || !source.startsWith('.')) return null;
    if (importer.startsWith('\0')) return { id: source, external: true };
    const found = await this.resolve(source, importer, { skipSelf: true });
    return found && deferred.includes(inProject(found.id)) ? `\0deferred:${inProject(found.id)}` : null;
  },
  async load(id) {
    if (!id.startsWith('\0deferred:')) return null;
    const path = id.slice('\0deferred:'.length);
    const names = functionsOf(path, await readFile(resolve(root, path), 'utf8'));
    return [
      `let loaded;\nconst part = () => (loaded ??= require('./${nameOf(path)}.cjs'));`,
      ...names.map((name) => `export const ${name} = (...args) => part().${name}(...args);`),
    ].join('\n');
  },
};

/** The room under src/ a module belongs to; for one of a package, the room that asks for it. */
const roomOf = (id, context, seen = new Set()) => {
  const room = /^src\/(\w+)\//.exec(inProject(id))?.[1];
  if (room || seen.has(id)) return room;
  seen.add(id);
  for (const importer of context.getModuleInfo(id)?.importers ?? []) {
    const found = roomOf(importer, context, seen);
    if (found) return found;
  }
  return undefined;
};

/** Every module that is loaded with a module, itself included; what it imports later only where asked. */
const closureOf = (path, context, withLater) => {
  const seen = new Set();
  const visit = (id) => {
    if (seen.has(id)) return;
    seen.add(id);
    const { importedIds = [], dynamicallyImportedIds = [] } = context.getModuleInfo(id) ?? {};
    for (const imported of withLater ? [...importedIds, ...dynamicallyImportedIds] : importedIds)
      visit(imported);
  };
  visit(resolve(root, path));
  return seen;
};

/** The files of the program that stand by themselves. */
const programEntries = {
  main: 'src/cli/start.ts',
  'fit-worker': 'src/node/threads/fit-worker.ts',
  ...Object.fromEntries(deferred.map((path) => [nameOf(path), path])),
};

/** Which modules of the program stand together, the first that fits; others go with the command that uses them. */
const together = [
  ['words', /^src\/cli\/words\//],
  ['live', /^src\/(live|standin|cli\/live|node\/(network|journals|standin|desk|ask))/],
  ['osc', /^src\/osc\//],
  ['model', /^src\/(units|quantisers|filters|guard|model|documents)\//],
  ['fitting', /^src\/(fitting|recipes)\//],
  ['exporters', /^src\/(exporters|layout)\//],
  ['files', /^src\/node\/(?!threads\/)/],
];

let known;

/** The file of the program a module goes into. */
const programFile = (id, context) => {
  known ??= {
    help: closureOf('src/cli/main.ts', context, false),
    all: closureOf('src/cli/start.ts', context, true),
  };
  const path = inProject(id);
  const isAlone = Object.values(programEntries).includes(path) || path === 'src/node/keep-compiled.ts';
  if (isAlone || !known.all.has(id)) return undefined;
  if (known.help.has(id)) return 'commands';
  const place = `src/${roomOf(id, context)}/`;
  return together.find(([, where]) => where.test(path.startsWith('src/') ? path : place))?.[0];
};

/** Files that wait for each other find each other half-made: then something stands in the wrong file. */
const refuseCircles = (files) => {
  const imports = new Map(files.map(({ fileName, imports = [] }) => [fileName, imports]));
  const visit = (fileName, path) => {
    if (path.includes(fileName)) throw new Error(`a circle in dist: ${[...path, fileName].join(' > ')}`);
    for (const imported of imports.get(fileName) ?? []) visit(imported, [...path, fileName]);
  };
  for (const fileName of imports.keys()) visit(fileName, []);
};

await rm('dist', { recursive: true, force: true });
await mkdir('dist');
// First, since it checks types.
await bundleDeclarations(doors);

const bundle = async (input, plugins, output) => {
  const bundled = await rolldown({
    input,
    plugins,
    platform: 'node',
    preserveEntrySignatures: 'allow-extension',
  });
  const { output: files } = await bundled.write({ dir: 'dist', sourcemap: true, ...output });
  await bundled.close();
  refuseCircles(files);
  return files;
};

const library = await bundle(doors, [withoutUnused], {
  format: 'es',
  entryFileNames: '[name].js',
  chunkFileNames: 'rooms/[name].js',
  minify: { compress: true, mangle: false, codegen: { removeWhitespace: true } },
  codeSplitting: { groups: [{ debugName: 'rooms', name: roomOf }], includeDependenciesRecursively: false },
});
const program = await bundle(programEntries, [withoutUnused, deferring], {
  format: 'cjs',
  entryFileNames: ({ name }) => (name === 'main' ? 'main.cjs' : `program/${name}.cjs`),
  chunkFileNames: 'program/[name].cjs',
  codeSplitting: {
    groups: [{ debugName: 'program', name: programFile }],
    includeDependenciesRecursively: false,
  },
  minify: true,
});
await chmod('dist/main.cjs', 0o755);
await writeNotices([...library, ...program].flatMap(({ modules = {} }) => Object.keys(modules)));
