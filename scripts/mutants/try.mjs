import { join } from 'node:path';
import { Lane, NOT_LOADED } from './lanes.mjs';
import { mutated } from './operators.mjs';
import { regionsSeeing, roundsFor } from './plan.mjs';

/**
 * Tries mutants in several processes side by side: `[{ mutant, verdict, by, ms, reachedBy }]` in their order. A mutant that no test
 * reaches survives.
 */
export async function tryMutants(root, mutants, { sources, reached, lanes, mostMs, say }) {
  const tried = new Array(mutants.length);
  let next = 0;
  const work = async () => {
    const lane = new Lane(root);
    for (let k = next++; k < mutants.length; k = next++) {
      tried[k] = await tryOne(root, mutants[k], { sources, reached, lane, mostMs });
      const { verdict, by, ms } = tried[k];
      say(
        `${String(k + 1).padStart(3)} ${verdict.padEnd(9)} ${(ms / 1000).toFixed(1).padStart(6)} s  ${shortName(mutants[k])}${by ? `  (${by})` : ''}`,
      );
    }
    lane.close();
  };
  await Promise.all(Array.from({ length: Math.min(lanes, mutants.length) }, work));
  return tried;
}

async function tryOne(root, mutant, { sources, reached, lane, mostMs }) {
  const rounds = roundsFor(regionsSeeing(mutant, sources), reached, { mostMs });
  const source = mutated(sources.text(mutant.file), mutant);
  let ms = 0;
  for (const files of rounds) {
    if (files.length === 0) continue;
    const work = { path: join(root, mutant.file), source, files };
    let result = await lane.run(work);
    ms += result.ms;
    if (result.by === NOT_LOADED || (result.verdict === 'killed' && result.by === null)) {
      // No test has failed: once more, so that it is surely the mutant and not the machine.
      result = await lane.run(work);
      ms += result.ms;
    }
    if (result.verdict !== 'survived') return { mutant, ...result, ms, reachedBy: rounds.flat().length };
  }
  return { mutant, verdict: 'survived', by: null, ms, reachedBy: rounds.flat().length };
}

/** A mutant's name without the folder that all have in common. */
export function shortName({ name }) {
  return name.replace(/^packages\/core\/src\//, '');
}
