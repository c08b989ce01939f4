// Bundles src/ into dist/, in two ways:
// - the doors of the library as ES modules, a file a room, so that whoever imports a parser bundles a few kilobytes;
// - the program as CommonJS, which Node.js starts sooner, in few files, of which a command loads what it uses.
import { existsSync, readdirSync } from 'node:fs';
import { chmod, mkdir, readFile, rm, writeFile } from 'node:fs/promises';
import { relative, resolve, sep } from 'node:path';
import { parseSync } from 'oxc-parser';
import { rolldown } from 'rolldown';
import { declarationsOf } from './declarations.mjs';
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
 * Parts of the program that not every run needs: each is a file of its own, loaded when one of its functions is first
 * called. The sources import these modules like any other, but only functions and plain constants can be had from them.
 */
const parts = {
  describing: ['src/documents/tell-faults.ts', 'src/documents/write-json.ts', 'src/documents/write-xml.ts'],
  xml: ['src/documents/xml/parse-xml.ts'],
  codec: ['src/osc/codec.ts'],
  threads: ['src/node/threads/pool.ts'],
};

const partOf = (path) => Object.keys(parts).find((name) => parts[name].includes(path));

const isFunction = (node) => node?.type === 'ArrowFunctionExpression' || node?.type === 'FunctionExpression';

/** What a module exports: functions by name, and plain constants with their text. */
const exportsOf = async (path) => {
  const source = await readFile(resolve(root, path), 'utf8');
  return parseSync(path, source).program.body.flatMap((statement) => {
    if (statement.type !== 'ExportNamedDeclaration' || statement.exportKind === 'type') return [];
    return (statement.declaration?.declarations ?? [{}]).flatMap(({ id, init }) => {
      if (isFunction(init)) return { name: id.name };
      if (init?.type === 'Literal') return { name: id.name, text: source.slice(init.start, init.end) };
      // Only its own part can import it: where anybody else does, the bundler says that it is not there.
      return [];
    });
  });
};

const deferredExport = ({ name, text }) =>
  `export const ${name} = ${text ?? `(...args) => part().${name}(...args)`};`;

const deferring = {
  name: 'deferring',
  buildStart() {
    for (const name of Object.keys(parts)) {
      const fileName = `program/${name}.cjs`;
      this.emitFile({ type: 'chunk', id: `\0part:${name}`, fileName, preserveSignature: 'strict' });
    }
  },
  async resolveId(source, importer) {
    if (source.startsWith('\0part:')) return source;
    if (importer?.startsWith('\0part:')) return resolve(root, source);
    if (importer?.startsWith('\0deferred:')) return { id: source, external: true };
    if (!source.startsWith('.')) return null;
    const found = await this.resolve(source, importer, { skipSelf: true });
    return found && partOf(inProject(found.id)) ? `\0deferred:${inProject(found.id)}` : null;
  },
  async load(id) {
    const [kind, path] = id.split(':');
    if (kind === '\0part')
      return parts[path].map((each) => `export * from ${JSON.stringify(each)};`).join('\n');
    if (kind !== '\0deferred') return null;
    return [
      `let loaded;\nconst part = () => (loaded ??= require('./${partOf(path)}.cjs'));`,
      ...(await exportsOf(path)).map(deferredExport),
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

/** Rooms that stand together in the library; others have a file of their own. */
const libraryFiles = {
  model: ['quantisers', 'filters', 'guard', 'model'],
  fitting: ['fitting', 'recipes', 'analysis'],
  exporters: ['exporters', 'layout'],
  node: ['node', 'live'],
};

/** The file of the library a module goes into. */
const libraryFile = (id, context) => {
  const room = roomOf(id, context);
  return Object.keys(libraryFiles).find((name) => libraryFiles[name].includes(room)) ?? room;
};

const programEntries = { main: 'src/cli/start.ts', 'fit-worker': 'src/node/threads/fit-worker.ts' };

/**
 * Which modules of the program stand together, the first that fits. What else a command or a deferred part uses stands
 * with it.
 */
const together = [
  ['writing', /^src\/cli\/(push|verify|watch|restore|inspect|journals)\//],
  ['targets', /^src\/cli\/targets\//],
  ['live', /^src\/(live|standin|node\/(network|journals|standin|desk|ask|process-identity))/],
  ['osc', /^src\/osc\//],
  ['model', /^src\/(units|quantisers|filters|guard|model|documents)\//],
  ['fitting', /^src\/(fitting|recipes|node\/threads)\//],
  ['exporters', /^src\/(exporters|layout)\//],
  ['files', /^src\/node\//],
];

let known;

/** The file of the program a module goes into. */
const programFile = (id, context) => {
  known ??= {
    help: closureOf('src/cli/main.ts', context, false),
    all: closureOf('src/cli/start.ts', context, true),
    options: new Set(
      readdirSync('src/cli')
        .map((name) => `src/cli/${name}/command.ts`)
        .filter((path) => existsSync(path))
        .flatMap((path) => [...closureOf(path, context, false)]),
    ),
  };
  const path = inProject(id);
  const isAlone = Object.values(programEntries).includes(path) || path === 'src/node/keep-compiled.ts';
  if (isAlone) return undefined;
  if (!known.all.has(id))
    return /^src\/documents\/(?!xml\/)/.test(path) && !partOf(path) ? 'schemas' : undefined;
  if (id.startsWith('\0deferred:')) return 'deferred';
  if (known.help.has(id)) return 'commands';
  if (known.options.has(id)) return 'options';
  const place = path.startsWith('src/') ? path : `src/${roomOf(id, context)}/`;
  return together.find(([, where]) => where.test(place))?.[0];
};

/** Files that wait for each other find each other half-made: then something stands in the wrong file. */
const refuseCircles = (files) => {
  const imports = new Map(files.map(({ fileName, imports = [] }) => [fileName, imports]));
  const visit = (fileName, path) => {
    if (path.includes(fileName))
      throw new Error(`a circle in dist: ${[...path, fileName].join(' > ')}; see "together"`);
    for (const imported of imports.get(fileName) ?? []) visit(imported, [...path, fileName]);
  };
  for (const fileName of imports.keys()) visit(fileName, []);
};

// First, since it checks types: where they are wrong, what was built before stays.
const declarations = await declarationsOf(doors);
await rm('dist', { recursive: true, force: true });
await mkdir('dist');
for (const [door, text] of Object.entries(declarations)) await writeFile(`dist/${door}.d.ts`, text);

/** The names stay as they are: a stack trace that somebody sends in can be read. */
const minify = { compress: true, mangle: false, codegen: { removeWhitespace: true } };

const bundle = async (input, plugins, groups, output) => {
  const preserveEntrySignatures = 'allow-extension';
  const bundled = await rolldown({ input, plugins, platform: 'node', preserveEntrySignatures });
  const codeSplitting = { groups: [groups], includeDependenciesRecursively: false };
  const { output: files } = await bundled.write({ dir: 'dist', minify, codeSplitting, ...output });
  await bundled.close();
  refuseCircles(files);
  return files;
};

const libraryGroups = { debugName: 'library', name: libraryFile };
const library = await bundle(doors, [withoutUnused], libraryGroups, {
  format: 'es',
  sourcemap: true,
  entryFileNames: '[name].js',
  chunkFileNames: 'rooms/[name].js',
});
// Other people's code, and what was generated, is not shipped a second time as its own source.
for (const { fileName } of library.filter((each) => each.fileName.endsWith('.map'))) {
  const map = JSON.parse(await readFile(`dist/${fileName}`, 'utf8'));
  const isOurs = (path) => /\/src\/(?!documents\/generated\/)/.test(path);
  // Dependencies may lie anywhere, and be linked here: what is built is the same all the same.
  const here = '../'.repeat(fileName.split('/').length);
  map.sources = map.sources.map((path) => path.replace(/^.*?(?=node_modules\/)/, here));
  map.sourcesContent = map.sources.map((path, index) => (isOurs(path) ? map.sourcesContent[index] : null));
  await writeFile(`dist/${fileName}`, JSON.stringify(map));
}

const programGroups = { debugName: 'program', name: programFile };
const program = await bundle(programEntries, [withoutUnused, deferring], programGroups, {
  format: 'cjs',
  entryFileNames: ({ name }) => (name === 'main' ? 'main.cjs' : `program/${name}.cjs`),
  chunkFileNames: 'program/[name].cjs',
});

/**
 * The files of the program give what they export through getters, as if it could still change, and a call through one
 * in a loop over samples takes several times as long. Here a file is complete before another sees it, since circles are
 * refused: what cannot be assigned to again is given as it is.
 */
const getter =
  /Object\.defineProperty\(exports,("[^"]+"),\{enumerable:!0,get:function\(\)\{return ([^{}]+)\}\}\)/g;
for (const { fileName, code } of program) {
  const declared = parseSync(fileName, code).program.body.flatMap((each) =>
    each.kind === 'const' ? each.declarations.map(({ id }) => id.name) : (each.id?.name ?? []),
  );
  const isFixed = (value) => declared.includes(value) || !Number.isNaN(Number(value));
  const plain = code.replace(getter, (whole, name, value) =>
    isFixed(value) ? `exports[${name}]=${value}` : whole,
  );
  await writeFile(`dist/${fileName}`, plain);
}
await chmod('dist/main.cjs', 0o755);

await writeNotices([...library, ...program].flatMap(({ modules = {} }) => Object.keys(modules)));
