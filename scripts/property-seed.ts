import fc from 'fast-check';

/** Property tests take the same cases in every run, so that a failure is a change's and not luck's; `OKURI_SEED=n` explores others. */
const DEFAULT_SEED = 20_260_420;

fc.configureGlobal({ seed: Number(process.env.OKURI_SEED ?? DEFAULT_SEED) });
