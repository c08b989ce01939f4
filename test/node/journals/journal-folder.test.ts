import { homedir } from 'node:os';
import { join, resolve } from 'node:path';
import { afterEach, expect, it, vi } from 'vitest';
import { journalFolder } from '../../../src/node/journals/journal-folder.js';

afterEach(() => {
  vi.unstubAllEnvs();
});

it('is the one asked for, before the one of the environment', () => {
  vi.stubEnv('BANDWRIGHT_JOURNALS', '/from/environment');
  expect(journalFolder('/asked/for')).toBe(resolve('/asked/for'));
  expect(journalFolder('asked')).toBe(join(process.cwd(), 'asked'));
  expect(journalFolder()).toBe(resolve('/from/environment'));
});

// Source: XDG Base Directory Specification, version 0.8: $XDG_STATE_HOME, by default $HOME/.local/state.
it.runIf(process.platform === 'linux')(
  'is where the platform keeps such files, where nothing is said',
  () => {
    vi.stubEnv('BANDWRIGHT_JOURNALS', '');
    vi.stubEnv('XDG_STATE_HOME', '/state');
    expect(journalFolder()).toBe('/state/bandwright');
    vi.stubEnv('XDG_STATE_HOME', '');
    expect(journalFolder()).toBe(join(homedir(), '.local/state/bandwright'));
  },
);
