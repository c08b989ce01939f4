import fc from 'fast-check';

/**
 * Laws draw the same cases each time, so that what passes here passes everywhere; `SEED=random` draws others, to explore,
 * and `SEED=n` those of a run that failed: fast-check prints the number.
 */
const { SEED: asked = '20261126' } = process.env;

fc.configureGlobal({ seed: asked === 'random' ? Math.trunc(Math.random() * 2 ** 31) : Number(asked) });
