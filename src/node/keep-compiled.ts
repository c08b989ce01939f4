import module from 'node:module';

/**
 * Keeps the modules that are loaded from here on as compiled code, in the folder Node.js has for that, so that the next
 * start need not compile them. Node.js 22.8 and later can; NODE_DISABLE_COMPILE_CACHE forbids it. It changes nothing but
 * the time a start takes, so a folder that cannot be written is no failure.
 */
export const keepCompiled = (): void => {
  const { enableCompileCache } = module as { readonly enableCompileCache?: () => unknown };
  enableCompileCache?.();
};
