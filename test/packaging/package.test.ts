import { readdir, readFile, writeFile } from 'node:fs/promises';
import { builtinModules } from 'node:module';
import { dirname, join, posix } from 'node:path';
import { checkPackage, createPackageFromTarballData } from '@arethetypeswrong/core';
import { build, type Platform } from 'esbuild';
import { type Argument, parseSync, Visitor } from 'oxc-parser';
import { publint } from 'publint';
import { formatMessage } from 'publint/utils';
import { describe, expect, it } from 'vitest';
import { filesUnder, projectRoot } from '../end-to-end/run.js';
import { doorsOf, makeProject, manifestOf, pack } from './packed.js';

const packed = await pack();
const { root, paths } = packed;
const project = await makeProject(packed, 'bundled');

const manifest = await manifestOf(packed);
const doors = doorsOf(manifest);

/** A text as a program has it: in quotes. Undefined for what only running it tells, as a module that --quantiser names. */
const textOf = (node: Argument | undefined): string | undefined => {
  if (node?.type === 'TemplateLiteral' && node.expressions.length === 0)
    return node.quasis[0]?.value.cooked ?? undefined;
  return node?.type === 'Literal' && typeof node.value === 'string' ? node.value : undefined;
};

/** What a module imports or requires, at once or later, by the specifiers it writes. */
const importsOf = async (path: string): Promise<readonly string[]> => {
  const { module, program } = parseSync(path, await readFile(join(root, path), 'utf8'));
  const found: (string | undefined)[] = [
    ...module.staticImports.map(({ moduleRequest }) => moduleRequest.value),
    ...module.staticExports.flatMap(({ entries }) =>
      entries.flatMap((each) => each.moduleRequest?.value ?? []),
    ),
  ];
  new Visitor({
    ImportExpression: ({ source }) => found.push(textOf(source)),
    CallExpression: ({ callee, arguments: [asked] }) =>
      callee.type === 'Identifier' && callee.name === 'require' && found.push(textOf(asked)),
  }).visit(program);
  return found.filter((specifier) => specifier !== undefined);
};

describe('the package', () => {
  it('holds every schema, every target and its licence, and nothing that is for development', async () => {
    const schemas = (await readdir(join(projectRoot, 'schemas'))).filter((name) => name.endsWith('.json'));
    const targets = (await readdir(join(projectRoot, 'targets'))).filter((name) =>
      /\.(json|xml)$/.test(name),
    );
    expect(paths).toEqual(
      expect.arrayContaining([
        ...['LICENSE', 'README.md', 'package.json', 'dist/THIRD-PARTY-NOTICES.txt'],
        ...schemas.map((name) => `schemas/${name}`),
        ...targets.map((name) => `targets/${name}`),
      ]),
    );
    expect(schemas.length + targets.length).toBeGreaterThan(18);
    // What the manual is, and what the README shows.
    const shown = ['src/README.md', 'src/demo-sheet.png'];
    const places = [...new Set(paths.map((path) => (shown.includes(path) ? path : path.split('/')[0])))];
    const known = [
      'LICENSE',
      'README.md',
      'CHANGELOG.md',
      'dist',
      'package.json',
      'schemas',
      'targets',
      ...shown,
    ];
    expect(places.filter((place) => place === undefined || !known.includes(place))).toEqual([]);
  });

  it('leads nowhere that is not in it, but to the guide for whoever works on it', async () => {
    const dead: string[] = [];
    const readmes = paths.filter((path) => path.endsWith('README.md'));
    expect(readmes).toEqual(['README.md', 'schemas/README.md', 'src/README.md', 'targets/README.md']);
    for (const path of readmes) {
      for (const [, to = ''] of (await readFile(join(root, path), 'utf8')).matchAll(/\]\(([^)#]+)[^)]*\)/g)) {
        if (!/^\w+:/.test(to) && !paths.includes(posix.join(posix.dirname(path), to))) dead.push(to);
      }
    }
    expect(dead).toEqual(['DEVELOPERS.md']);
  });

  it('is some hundred files', () => {
    expect(paths.length).toBeLessThan(115);
  });

  it('holds every module that its own modules import, and leans on no other package', async () => {
    const seen = new Set<string>();
    const queue = [...Object.values(manifest.bin), ...doors.map((door) => door.default)].map((path) =>
      posix.normalize(path),
    );
    // A thread is started by the path of its module.
    queue.push('dist/program/fit-worker.cjs');
    const foreign = new Set<string>();
    for (const path of queue) {
      if (seen.has(path)) continue;
      seen.add(path);
      for (const specifier of await importsOf(path)) {
        if (specifier.startsWith('.')) queue.push(posix.join(posix.dirname(path), specifier));
        else foreign.add(specifier.replace(/^node:/, ''));
      }
    }
    expect([...seen].filter((path) => !paths.includes(path))).toEqual([]);
    // Nor is there a module that nothing imports.
    expect(paths.filter((path) => /\.c?js$/.test(path) && !seen.has(path))).toEqual([]);
    expect([...foreign].filter((name) => !builtinModules.includes(name))).toEqual([]);
  });

  it('names what its manifest says it has', async () => {
    expect(doors.map(({ name }) => name)).toEqual(['.', './node', './standin']);
    for (const path of [
      ...Object.values(manifest.bin),
      ...doors.flatMap((door) => [door.types, door.default]),
    ]) {
      expect(paths).toContain(posix.normalize(path));
    }
    for (const path of Object.values(manifest.bin)) {
      expect(await readFile(join(root, path), 'utf8')).toMatch(/^#!\/usr\/bin\/env node\n/);
    }
  });

  it('tells nothing of the machine it was built on', async () => {
    const here = dirname(join(projectRoot, 'package.json'));
    for (const path of await filesUnder(root)) {
      if (!/\.\w+$/.test(path)) continue;
      expect((await readFile(join(root, path))).includes(here), path).toBe(false);
    }
  });

  it('has a source map for every file of the library, with our sources in it', async () => {
    const files = paths.filter((path) => /^dist\/rooms\/.*\.js$/.test(path) && !/runtime|xml/.test(path)); // Those two hold packages only.
    expect(files.length).toBeGreaterThan(5);
    for (const path of files) {
      expect(await readFile(join(root, path), 'utf8')).toContain(
        `sourceMappingURL=${posix.basename(path)}.map`,
      );
      const map = JSON.parse(await readFile(join(root, `${path}.map`), 'utf8')) as {
        readonly sources: readonly string[];
        readonly sourcesContent: readonly (string | null)[];
      };
      expect(map.sources.filter((each) => !/^\.\.\/\.\.\/(src|node_modules)\//.test(each))).toEqual([]);
      const ours = map.sources.flatMap((source, index) =>
        source.startsWith('../../src/') && !source.includes('/generated/') ? [index] : [],
      );
      expect(ours.length, path).toBeGreaterThan(0);
      for (const index of ours)
        expect(map.sourcesContent[index]?.length, map.sources[index]).toBeGreaterThan(0);
    }
  });
});

describe('judges of packages find nothing amiss', () => {
  it('publint', async () => {
    const tarball = new Uint8Array(await readFile(packed.tarball)).buffer;
    const { messages, pkg } = await publint({ strict: true, pack: { tarball } });
    expect(messages.map((message) => formatMessage(message, pkg))).toEqual([]);
  });

  it('are the types wrong', async () => {
    const checked = await checkPackage(createPackageFromTarballData(await readFile(packed.tarball)));
    if (!checked.types) throw new Error('no types were found');
    expect(Object.keys(checked.entrypoints)).toEqual(Object.keys(manifest.exports));
    // ES modules only: what asks for CommonJS, or knows no `exports`, is older than the Node.js we need.
    const foreign = ['node10', 'node16-cjs'];
    expect(
      checked.problems.filter(
        (each) => !('resolutionKind' in each) || !foreign.includes(each.resolutionKind),
      ),
    ).toEqual([]);
  });
});

/** What somebody's bundler makes of a module of theirs. */
const bundle = async (contents: string, platform: Platform) => {
  const entry = join(project, 'entry.mjs');
  await writeFile(entry, contents);
  const made = await build({
    entryPoints: [entry],
    bundle: true,
    minify: true,
    format: 'esm',
    write: false,
    metafile: true,
    logLevel: 'silent',
    absWorkingDir: project,
    platform,
  });
  return {
    text: made.outputFiles[0]?.text ?? '',
    inputs: Object.keys(made.metafile.inputs),
    /** What it would still have to be given. */
    imports: Object.values(made.metafile.outputs).flatMap((output) => output.imports.map(({ path }) => path)),
  };
};

describe('the main door', () => {
  it('bundles for a browser, and asks for nothing of Node.js', async () => {
    const { text, inputs, imports } = await bundle("export * from 'bandwright';", 'browser');
    expect(text.length).toBeGreaterThan(100_000);
    expect(imports).toEqual([]);
    expect(inputs.filter((path) => /\/(node|standin)\.js$/.test(path))).toEqual([]);
  });

  it('lets the bundler fail on what is for Node.js only', async () => {
    await expect(bundle("export * from 'bandwright/node';", 'browser')).rejects.toThrow(/node:/);
  });

  it('costs a few kilobytes where only a parser is wanted', async () => {
    const { text } = await bundle(
      "import { parseFrequency } from 'bandwright'; console.log(parseFrequency('19k32'));",
      'neutral',
    );
    expect(text.length).toBeLessThan(10_000);
  });

  const costOf = async (name: string): Promise<number> => {
    const { text } = await bundle(
      `import { ${name} } from 'bandwright'; console.log(${name}('{}', { source: 'show.json' }));`,
      'browser',
    );
    expect(text).toContain('bandwright-rig/1');
    return text.length;
  };

  // What the guide says of it: what one document needs, and not what the others need, was measured when it was written.
  it.each([
    ['readIntents', 140_000],
    ['readRig', 160_000],
    ['readTarget', 200_000],
    ['readRecipe', 185_000],
    ['readDocument', 390_000],
    ['writeJson', 125_000],
  ])(
    'costs what one document needs where one is read, and no reader where one is written: %s',
    async (name, most) => {
      expect(await costOf(name)).toBeLessThan(most);
    },
  );
});
