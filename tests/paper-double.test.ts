import { readFileSync } from 'node:fs';
import { type Finding, type JobResult, runJob, suggestTies } from '@okuri/core';
import { clothTile, judgedSheets, type LooseIsland, wholeOpeningId } from '@okuri/core/inside';
import { describe, expect, it } from 'vitest';
import { areaApart } from './support/fine-area.js';
import { perimeter } from './support/flatten.js';
import { type IconPlace, type IconSet, iconMotif, iconsOf } from './support/icons.js';
import { bareJob, outlineDistance, type Says } from './support/paper-ties.js';

// Icons of open sets cut as two sheets, on bare treated paper: together they are the icon, each holds by itself, and no tie shows.
// `paper-ties.json` names the sets; of every set one icon in so many is taken.

const { sets }: { readonly sets: readonly IconSet[] } = JSON.parse(
  readFileSync(new URL('paper-ties.json', import.meta.url), 'utf8'),
);
const EVERY = 6;
const PLACES: readonly [IconPlace, Says][] = [
  ['apart', { repeat: 'straight' }],
  ['seams', { repeat: 'half-drop' }],
];

/** Two sheets may differ from one by this much along its outlines, mm. */
const APART_MM = 1e-4;
/** A narrow place of the drawing has its ends on the drawing's outlines, to this, mm. */
const ON_OUTLINE_MM = 0.01;

/** An opening longer than so many spans has to be mended. */
const GRAVE_SPANS = 2;

const grave = ({ severity }: Finding): boolean => severity === 'fix' || severity === 'stop';

/** What has to be mended on two sheets and had not to be on one: a sentence each. */
function newFaults(single: JobResult, double: JobResult): string[] {
  const off = outlineDistance(single.cutOut[0].map(({ contour }) => contour));
  const drawn = judgedSheets(double).flatMap(({ paper, field }) =>
    [...paper.necks, ...paper.slits]
      .filter(({ from, to }) => Math.max(off(from), off(to)) <= ON_OUTLINE_MM)
      .map(({ atMm }) => `${(atMm.x - field.x0).toFixed(3)} ${(atMm.y - field.y0).toFixed(3)}`),
  );
  const places = new Set(drawn);
  return double.findings
    .filter(grave)
    .filter(({ code, atMm }) => {
      // Islands and long openings are looked at by themselves.
      if (code === 'island' || code === 'ground-cut' || code === 'opening-long') return false;
      if (single.findings.some((f) => f.code === code && code !== 'neck' && code !== 'slit')) return false;
      return atMm === null || !places.has(`${atMm.x.toFixed(3)} ${atMm.y.toFixed(3)}`);
    })
    .map(({ message, atMm }) => `${message} (${atMm?.x.toFixed(1)}, ${atMm?.y.toFixed(1)})`);
}

/** The openings of a drawing of which a sheet has a part that is longer than so many spans, by their names. */
function longOnes(result: JobResult, spans: number): string[] {
  return judgedSheets(result).flatMap(({ openings, paper }) => {
    const names = new Map(openings.map(({ number, openingId }) => [number, wholeOpeningId(openingId)]));
    const most = spans * paper.rules.spanMm;
    return paper.longOpenings.flatMap((long) => (long.lengthMm > most ? (names.get(long.opening) ?? '') : []));
  });
}

describe.each(sets)('$package $version ($licence) on two sheets', (set) => {
  it('shows all of the drawing and no tie, and holds', () => {
    const faults: string[] = [];
    let ties = 0;
    for (const [k, icon] of iconsOf(set)
      .filter((_, n) => n % EVERY === 0)
      .entries()) {
      const [place, says] = PLACES[k % PLACES.length];
      const name = `${icon.name}, ${place}`;
      const motif = iconMotif(icon, place);
      // Ties that do not show are the shortest.
      const asked = { ...says, paper: { hideTies: false } };
      const single = runJob(motif, bareJob(asked));
      const double = runJob(motif, bareJob({ ...asked, double: { on: true } }));
      const [a, b] = double.sheets;
      expect([a.part, b.part], name).toEqual(['A', 'B']);
      expect(b.dots, name).toEqual(a.dots);
      expect(b.measures, name).toEqual(a.measures);

      // Together they are the drawing, on the outlines as they are cut.
      const [whole, ofA, ofB] = [single.cutOut[0], ...double.cutOut].map((list) => list.map(({ contour }) => contour));
      const lengthMm = perimeter(whole);
      expect(areaApart('xor', whole, [...ofA, ...ofB]), name).toBeLessThanOrEqual(APART_MM * lengthMm);

      // A tie stands on one sheet, and the other is open there.
      for (const { id, outline } of a.ties) {
        const edgeMm = perimeter([outline]);
        const [onA, onB] = [ofA, ofB].map((open) => areaApart('intersection', [outline], open));
        expect(Math.min(onA, onB), `${name}: ${id} stands`).toBeLessThanOrEqual(APART_MM * edgeMm);
        const open = onA < onB ? ofB : ofA;
        expect(areaApart('difference', [outline], open), `${name}: under ${id}`).toBeLessThanOrEqual(APART_MM * edgeMm);
        ties++;
      }

      // The cloth is that of one sheet without ties.
      expect(double.openings, name).toEqual(single.openings);
      expect(clothTile(double.cell), name).toEqual(clothTile(single.cell));

      // Only what no tie can hold is loose, and only what was too long is.
      const { impossible } = suggestTies(single)[0];
      const loose = double.strength.flatMap(({ islands }): readonly LooseIsland[] => islands);
      expect(loose.length, name).toBeLessThanOrEqual(impossible.length);
      const long = new Set(longOnes(single, 1));
      expect(
        longOnes(double, GRAVE_SPANS).filter((id) => !long.has(id)),
        name,
      ).toEqual([]);
      faults.push(...newFaults(single, double).map((fault) => `${name}: ${fault}`));
    }
    expect(ties).toBeGreaterThan(10);
    expect(faults).toEqual([]);
  });
});
