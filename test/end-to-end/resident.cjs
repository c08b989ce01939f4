// The built program in one process for one command line after another, so that what is in dist/ is loaded and compiled
// once. A run is over when Node.js would end the process: when nothing is left that it waits for.
const { Readable } = require('node:stream');

/** What the run that is under way has said so far. */
let said = null;

for (const name of ['stdout', 'stderr']) {
  process[name].write = (chunk, encoding, done) => {
    said[name].push(Buffer.from(chunk));
    const written = typeof encoding === 'function' ? encoding : done;
    if (written) process.nextTick(written);
    return true;
  };
}

const tell = (exitCode) => {
  const { stdout, stderr } = said;
  process.send({ exitCode, stdout: Buffer.concat(stdout), stderr: Buffer.concat(stderr) });
};

process.on('message', ({ main, args, cwd, env, stdin }) => {
  said = { stdout: [], stderr: [] };
  process.exitCode = undefined;
  process.argv = [process.execPath, main, ...args];
  process.chdir(cwd);
  for (const name of Object.keys(process.env)) if (!Object.hasOwn(env, name)) delete process.env[name];
  Object.assign(process.env, env);
  const input = Readable.from(stdin.length > 0 ? [Buffer.from(stdin)] : []);
  Object.defineProperty(process, 'stdin', { configurable: true, value: input });
  // The program's first file starts it; all it loads stays loaded.
  delete require.cache[main];
  require(main);
  process.channel.unref();
});

process.on('disconnect', () => process.exit());

process.on('beforeExit', () => {
  // What the program does on its way out, which may change how it ends.
  process.emit('exit', process.exitCode ?? 0);
  process.channel.ref();
  tell(process.exitCode ?? 0);
});
