import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { drawingsOf, SETS, svgFiles } from './sets.mjs';
import { REPEATS, randomFrom, settingsFor } from './settings.mjs';

/** Of all sets together `count` drawings, as many of each as there are to have, by chance that follows the seed; each with its settings. */
export function sampleOfSets(seed, count) {
  const sets = SETS.map(drawingsOf).sort((a, b) => a.names.length - b.names.length);
  let left = count;
  return sets.flatMap(({ names, read }, k) => {
    const share = Math.min(names.length, Math.round(left / (sets.length - k)));
    left -= share;
    return shuffled(names, `${seed} ${names[0]}`)
      .slice(0, share)
      .map((index) => ({ name: names[index], read: () => read(index), settings: settingsFor(names[index], seed) }));
  });
}

/** Every drawing of a folder in every repeat, at its own size where it states one. */
export function drawingsOfFolder(folder, seed, count) {
  const files = svgFiles(folder);
  const chosen =
    count === null
      ? files
      : shuffled(files, `${seed}`)
          .slice(0, count)
          .map((k) => files[k]);
  return chosen.flatMap((file) =>
    Object.keys(REPEATS).map((repeat) => ({
      name: file,
      read: () => readFileSync(join(folder, file), 'utf8'),
      settings: settingsFor(`${file} ${repeat}`, seed, { repeat, asDrawn: true }),
    })),
  );
}

/** Indices of a list in an order by chance (Fisher and Yates). */
function shuffled(list, word) {
  const random = randomFrom(word);
  const order = list.map((_, k) => k);
  for (let k = order.length - 1; k > 0; k--) {
    const other = Math.floor(random() * (k + 1));
    [order[k], order[other]] = [order[other], order[k]];
  }
  return order;
}
