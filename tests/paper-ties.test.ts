import { readFileSync } from 'node:fs';
import { contourArea } from '@okuri/core/inside';
import { describe, expect, it } from 'vitest';
import { perimeter } from './support/flatten.js';
import { type IconPlace, type IconSet, iconMotif, iconsOf } from './support/icons.js';
import { acceptAll, faultsOf, type Says } from './support/paper-ties.js';

// Ties over icons of open sets, on bare treated paper: after accepting all that is suggested, the sheet has no new neck, no new slit and no
// island but those that were called impossible to hold. `paper-ties.json` names the sets and holds the counts, which may only get better.

interface TieSet extends IconSet {
  readonly expect: { readonly icons: number; readonly islands: number };
  readonly allow: { readonly impossible: Readonly<Record<string, number>> };
}

const { sets }: { readonly sets: readonly TieSet[] } = JSON.parse(
  readFileSync(new URL('paper-ties.json', import.meta.url), 'utf8'),
);

/** Every second icon lies over the seams of a half-drop. */
const PLACES: readonly [IconPlace, Says][] = [
  ['apart', { repeat: 'straight' }],
  ['seams', { repeat: 'half-drop' }],
];
/** Of so many icons one is cut with release ties too. */
const RELEASE_EVERY = 12;
/** Edges of ties and what they cut are rounded to the grid, mm. */
const GRID_MM = 1e-4;

/** Reasons are counted whatever lengths they name. */
const reasonText = (reason: string): string => reason.replaceAll(/[\d.]+ mm/g, '… mm');

const openArea = ({ openings }: { openings: readonly { areaMm2: number }[] }): number =>
  openings.reduce((sum, { areaMm2 }) => sum + areaMm2, 0);

describe.each(sets)('$package $version ($licence)', (set) => {
  it('keeps its paper and its seams with all suggested ties', () => {
    const faults: string[] = [];
    const impossible: Record<string, number> = {};
    const sum = { icons: 0, islands: 0, ties: 0 };
    for (const [k, icon] of iconsOf(set).entries()) {
      const [place, says] = PLACES[k % PLACES.length];
      const accepted = acceptAll(iconMotif(icon, place), says);
      const { before, found, after } = accepted;
      faults.push(...faultsOf(accepted).map((fault) => `${icon.name}, ${place}: ${fault}`));
      sum.icons++;
      sum.islands += before.strength[0].islands.length;
      for (const one of found) {
        sum.ties += one.suggested.length;
        for (const { reason } of one.impossible)
          impossible[reasonText(reason)] = (impossible[reasonText(reason)] ?? 0) + 1;
      }
      // Printed ties show: the cloth's openings lose what stands on the sheet, which here holds every tie whole.
      if (place === 'apart') {
        const standing = after.sheets[0].ties.map(({ outline }) => outline);
        const areaMm2 = standing.reduce((all, outline) => all + contourArea(outline), 0);
        const off = Math.abs(openArea(before) - openArea(after) - areaMm2);
        expect(off, icon.name).toBeLessThanOrEqual(GRID_MM * (1 + perimeter(standing)));
      }
    }
    console.log(
      `${set.package}: ${sum.icons} icons, ${sum.islands} islands, ${sum.ties} ties; ${JSON.stringify(impossible)}`,
    );
    expect(faults).toEqual([]);
    expect({ icons: sum.icons, islands: sum.islands }).toEqual(set.expect);
    // A ratchet: may only go down.
    for (const [reason, count] of Object.entries(impossible)) {
      expect(count, reason).toBeLessThanOrEqual(set.allow.impossible[reason] ?? 0);
    }
  });

  it('shows no release tie on the cloth', () => {
    const faults: string[] = [];
    let ties = 0;
    for (const [k, icon] of iconsOf(set).entries()) {
      if (k % RELEASE_EVERY !== 0) continue;
      const [place, says] = PLACES[(k / RELEASE_EVERY) % PLACES.length];
      const { before, found, after } = acceptAll(iconMotif(icon, place), { ...says, gauze: true }, 'release');
      ties += after.sheets[0].ties.length;
      const drawn = (result: typeof before) => JSON.stringify([result.openings, result.joins]);
      if (drawn(before) !== drawn(after)) faults.push(icon.name);
      const sooner = after.strength[0].islands.filter(({ dropsAt }) => dropsAt !== 'release');
      expect(sooner.length, icon.name).toBe(found[0].impossible.length);
    }
    expect(faults).toEqual([]);
    expect(ties).toBeGreaterThan(0);
  });
});

it('takes at least 150 icons', () => {
  expect(sets.reduce((sum, set) => sum + set.expect.icons, 0)).toBeGreaterThanOrEqual(150);
});
