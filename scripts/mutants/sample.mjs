import { createHash } from 'node:crypto';

/**
 * A seeded sample of mutants, as many from every folder as `count` allows (the rest goes to the first ones): in every folder the
 * places whose names come first when hashed with the seed, and of each place one mutant, chosen likewise. So a change of one file
 * leaves the rest of a sample as it was. `spare` more places of every folder follow after, for those that turn out not to compile.
 */
export function sample(byFolder, { seed, count, spare = 0 }) {
  const folders = Object.keys(byFolder);
  return Object.fromEntries(
    folders.map((folder, k) => {
      const share = Math.floor(count / folders.length) + Number(k < count % folders.length);
      const sites = bySite(byFolder[folder]);
      const ranked = [...sites.keys()].map((site) => ({ site, rank: hash(`${seed} ${site}`) }));
      ranked.sort((a, b) => (a.rank < b.rank ? -1 : 1));
      const chosen = ranked.slice(0, share + spare).map(({ site }) => lowest(sites.get(site), seed));
      return [folder, { share: Math.min(share, ranked.length), chosen }];
    }),
  );
}

function bySite(mutants) {
  const sites = new Map();
  for (const mutant of mutants) sites.set(mutant.site, [...(sites.get(mutant.site) ?? []), mutant]);
  return sites;
}

function lowest(mutants, seed) {
  return mutants
    .map((mutant) => ({ mutant, rank: hash(`${seed} one of ${mutant.name}`) }))
    .reduce((a, b) => (b.rank < a.rank ? b : a)).mutant;
}

function hash(text) {
  return createHash('sha256').update(text).digest('hex');
}
