import type { Plugin } from 'vitest/config';

/** One import of names, as it stands once types are gone. */
const namedImport = /^import \{([^}]*)\} from ("[^"]*"|'[^']*');$/gm;

/**
 * Binds imported names to constants. The runner turns every use of an import into a look-up through a getter of the
 * other module, by which a loop over samples takes up to five times as long as it does in the built program. A module
 * must not be used before it is complete, then; `test/structure` forbids the circles in which one could be.
 */
export const plainImports = (): Plugin => ({
  name: 'plain-imports',
  enforce: 'post',
  transform: (code, id) => {
    if (id.includes('/node_modules/') || !/\.ts($|\?)/.test(id)) return null;
    return {
      code: code.replace(namedImport, (_, list: string, from: string) => {
        const names = list.split(',').flatMap((each) => {
          const [name, local = name] = each.trim().split(' as ');
          return name && local ? [{ name, local }] : [];
        });
        const imports = names.map(({ name, local }) => `${name} as ${local}$imported`);
        const constants = names.map(({ local }) => `const ${local} = ${local}$imported;`);
        return `import { ${imports.join(', ')} } from ${from}; ${constants.join(' ')}`;
      }),
      map: null,
    };
  },
});
