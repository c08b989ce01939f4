// Bundles src/ into dist/, in two ways:
// - the doors of the library as ES modules, a file a room, so that whoever imports a parser bundles a few kilobytes;
// - the program as CommonJS, which Node.js starts sooner, in few files, of which a command loads what it uses.
import { readdirSync } from 'node:fs';
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

/** The module under src/ that a module is, or that asks for it where it is one of a package. */
const ownerOf = (id, context, seen = new Set()) => {
  const path = inProject(id);
  if (path.startsWith('src/') || seen.has(id)) return path;
  seen.add(id);
  const owners = (context.getModuleInfo(id)?.importers ?? []).map((each) => ownerOf(each, context, seen));
  return owners.find((owner) => owner.startsWith('src/')) ?? '';
};

/** Every module that is loaded with some, themselves included, but for what they import later. */
const closureOf = (paths, context) => {
  const seen = new Set();
  const visit = (id) => {
    if (seen.has(id)) return;
    seen.add(id);
    for (const imported of context.getModuleInfo(id)?.importedIds ?? []) visit(imported);
  };
  for (const path of paths) visit(resolve(root, path));
  return seen;
};

const documents = ['rig', 'intents', 'target', 'recipe', 'journal'];

/** Which modules of the library stand together, the first that fits; others with their room. */
const libraryFiles = [
  ...documents.map((name) => [name, new RegExp(`^src/documents/(generated|rules)/${name}\\b`)]),
  ['model', /^src\/(quantisers|filters|guard|model|documents\/rules)\//],
  ['fitting', /^src\/(fitting|recipes|analysis)\//],
  ['drawing', /^src\/(drawing\/|units\/digest)/],
  ['layout', /^src\/layout\//],
  ['exporters', /^src\/exporters\//],
  ['node', /^src\/(node|live)\//],
];

const firstFitting = (files, path) =>
  files.find(([, where]) => where.test(path))?.[0] ?? /^src\/(?:cli\/)?(\w+)\//.exec(path)?.[1];

/** The file of the library a module goes into. */
const libraryFile = (id, context) => {
  const path = ownerOf(id, context);
  // Packages that whoever only writes has no use for.
  const readsXml = path.startsWith('src/documents/xml/') && path !== inProject(id);
  return readsXml ? 'xml' : firstFitting(libraryFiles, path);
};

const programEntries = { main: 'src/cli/start.ts', 'fit-worker': 'src/node/threads/fit-worker.ts' };

/**
 * Which modules of the program stand together, the first that fits; what else a command has stands under its name. A
 * file is loaded when something of it is first used: what only some runs use stands apart.
 */
const programFiles = [
  ['pages', /^src\/cli\/(check|compare|inspect|tradeoff)\/([\w-]+-page|standing-figure)\./],
  [
    'writing',
    /^src\/cli\/(push|verify|watch|restore|inspect|journals|words\/(agreement|conversation|\w*report))/,
  ],
  ['words', /^src\/cli\/words\/(?!readings|typed-display)/],
  ['prompts', /^src\/(cli\/guided\/terminal-asker|node\/keyboard)/],
  [
    'guided',
    /^src\/(learning|node\/draft|cli\/(guided|rig|learn|targets\/new|words\/(readings|typed-display)))\b/,
  ],
  ['demo', /^src\/cli\/demo/],
  ['drawing', /^src\/(drawing\/|units\/digest|exporters\/(sheet\/|mix-response)|analysis\/response-curves)/],
  ['analysis', /^src\/(analysis|cli\/(check|compare|tradeoff))\//],
  ['hear', /^src\/(simulator|cli\/hear)\//],
  [
    'live',
    /^src\/(live|standin|cli\/standin|node\/(network|journals|folders|standin|desk|ask|process-identity))/,
  ],
  ['codec', /^src\/osc\/(message-)?codec/],
  ['osc', /^src\/osc\//],
  ['threads', /^src\/node\/threads\/(?!fit-job)/],
  ['xml', /^src\/documents\/xml\/(?!form)/],
  ['json', /^src\/documents\/json\/(?!parse-json)/],
  ...documents.map((name) => [`document-${name}`, new RegExp(`^src/documents/generated/${name}`)]),
  ['describing', /^src\/documents\/(xml\/form|tell-faults|fault-words|describe|write)/],
  ['model', /^src\/(units|quantisers|filters|guard|model|documents)\//],
  ['match', /^src\/fitting\/match\/(?!match\.)/],
  ['protect', /^src\/fitting\/protect\/(?!protect\.)/],
  ['fitting', /^src\/(fitting|recipes|node\/threads)\//],
  ['exporters', /^src\/(exporters|layout)\//],
  ['files', /^src\/node\//],
];

let known;

/** The file of the program a module goes into. */
const programFile = (id, context) => {
  known ??= {
    help: closureOf(['src/cli/main.ts'], context),
    options: closureOf(
      readdirSync('src/cli').map((name) => `src/cli/${name}/command.ts`),
      context,
    ),
  };
  const path = ownerOf(id, context);
  if (Object.values(programEntries).includes(path) || path === 'src/node/keep-compiled.ts') return undefined;
  // Where not even --help does without it, or it only tells options.
  if (known.help.has(id) || !path.startsWith('src/')) return 'commands';
  if (known.options.has(id)) return 'options';
  return firstFitting(programFiles, path);
};

/** Modules that wait for each other find each other half-made: then something stands in the wrong file. */
const refuseCircles = (files) => {
  const imports = new Map(files.map(({ fileName, imports = [] }) => [fileName, imports]));
  const visit = (fileName, path) => {
    if (path.includes(fileName))
      throw new Error(`a circle in dist: ${[...path, fileName].join(' > ')}; see "libraryFiles"`);
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
  return files;
};

const libraryGroups = { debugName: 'library', name: libraryFile };
const library = await bundle(doors, [withoutUnused], libraryGroups, {
  format: 'es',
  sourcemap: true,
  entryFileNames: '[name].js',
  chunkFileNames: 'rooms/[name].js',
});
refuseCircles(library);
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
const program = await bundle(programEntries, [withoutUnused], programGroups, {
  format: 'cjs',
  entryFileNames: ({ name }) => (name === 'main' ? 'main.cjs' : `program/${name}.cjs`),
  chunkFileNames: 'program/[name].cjs',
});

/** A file by the name it goes by in others, but for those that whatever does any work uses, and uses in loops. */
const later = 'require_(?!(?:commands|options|model|rolldown_runtime)\\b)\\w+';

/**
 * The files of the program give what they export through getters, as if it could still change, and a call through one
 * in a loop over samples takes several times as long: what cannot be assigned to again is given as it is.
 */
const getter =
  /Object\.defineProperty\(exports,("[^"]+"),\{enumerable:!0,get:function\(\)\{return ([^{}]+)\}\}\)/g;
for (const { fileName, code } of program) {
  const declared = parseSync(fileName, code).program.body.flatMap((each) =>
    each.kind === 'const' ? each.declarations.map(({ id }) => id.name) : (each.id?.name ?? []),
  );
  const isFixed = (value) => declared.includes(value) || !Number.isNaN(Number(value));
  const plain = code
    .replace(getter, (whole, name, value) => (isFixed(value) ? `exports[${name}]=${value}` : whole))
    // Another file is loaded when something of it is first used.
    .replace(/^require\("[^"]+"\)[,;]/m, '')
    .replace(new RegExp(`\\b(${later})=(require\\("[^"]+"\\))`, 'g'), '$1=(made=>()=>made??=$2)()')
    .replace(new RegExp(`\\bnew (${later}(?:\\.[\\w$]+)+)`, 'g'), 'new($1)')
    .replace(new RegExp(`\\b(${later})\\.`, 'g'), '$1().')
    // V8 reads text of one byte a character sooner.
    .replace(/[^\0-\x7f]/g, (each) => `\\u${each.charCodeAt(0).toString(16).padStart(4, '0')}`);
  await writeFile(`dist/${fileName}`, plain);
}
await chmod('dist/main.cjs', 0o755);

await writeNotices([...library, ...program].flatMap(({ modules = {} }) => Object.keys(modules)));
