/**
 * Keeps the modules that are loaded from here on as compiled code, in the folder Node.js has for that, so that the next
 * start need not compile them. Node.js 22.8 and later can; NODE_DISABLE_COMPILE_CACHE forbids it. It changes nothing but
 * the time a start takes, so a folder that cannot be written is no failure.
 */
export const keepCompiled = (): void => {
  // Node.js before has nothing to turn on, and what tells so is not worth its loading.
  if (Number.parseInt(process.versions.node, 10) < 22) return;
  const module = process.getBuiltinModule?.('node:module') as { enableCompileCache?(): unknown } | undefined;
  module?.enableCompileCache?.();
};
