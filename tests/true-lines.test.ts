import * as face from '@okuri/core';
import * as inside from '@okuri/core/inside';
import * as verify from '@okuri/core/verify';
import * as reader from '@okuri/reader';
import * as writer from '@okuri/writer';
import { expect, it } from 'vitest';
import { demoJob } from './whole-job/support.js';

// Every cut line of a sheet is an edge of its artwork, and every edge has its line: the demo, and drawings of open sets of icons and patterns (named with their
// licences in scripts/corpus/sets.mjs), laid in all repeats with strokes, clips and ties. `npm run corpus` looks at thousands of them.

const { checkDrawing, checkJob } = await import(new URL('../scripts/corpus/check-drawing.mjs', import.meta.url).href);
const { sampleOfSets } = await import(new URL('../scripts/corpus/sample.mjs', import.meta.url).href);

/** The sample of every run; `OKURI_SEED=n` takes others. */
const SEED = Number(process.env.OKURI_SEED ?? 11);
const DRAWINGS = 96;
const EXEMPT_MOST = 0.005;

const engine = { core: { ...face, ...inside }, verify, reader, writer };

it('the demo', () => {
  const found = checkJob(engine, demoJob());
  expect(found.misses).toEqual([]);
  expect(found.exemptMost).toBeLessThan(EXEMPT_MOST);
  expect(found.lengthMm).toBeGreaterThan(20_000);
});

it.each(['straight', 'half-drop', 'brick'])(
  'edges of the artwork that lie on the hold line, and on past its corner: %s',
  (repeat) => {
    // A held margin of a sixth of the side is where an icon drawn on 24 squares may well have an edge: 20 of 24.
    const svg = (path: string) =>
      `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 24 24"><path fill="none" stroke="#000" stroke-width="2" stroke-linecap="round" d="${path}"/></svg>`;
    for (const path of ['M13 19h8', 'M19 13v8', 'M13 19h6v-8', 'M3 19h8', 'M13 21h8']) {
      const says = {
        okuri: 1,
        motif: 'line.svg',
        date: '2026-01-01',
        width: '61.8mm',
        drawn: 'cloth',
        spill: 'carry',
        repeat,
      };
      const { job } = face.readJob(JSON.stringify(says), { file: 'line' });
      const found = checkJob(engine, { motif: reader.readSvg(svg(path), { widthMm: 61.8 }), job });
      expect({ path, misses: found.misses }).toEqual({ path, misses: [] });
    }
  },
);

it(`${DRAWINGS} drawings of many exporters`, () => {
  const told = { drawings: 0, refused: 0, samples: 0, sheets: 0, ties: 0, lengthMm: 0 };
  const repeats = new Set<string>();
  const failed: unknown[] = [];
  for (const { name, read, settings } of sampleOfSets(SEED, DRAWINGS)) {
    const found = checkDrawing(engine, { name, svg: read() }, settings);
    told.drawings++;
    if (found.refused !== undefined) {
      told.refused++;
      continue;
    }
    repeats.add(settings.repeat);
    for (const key of ['samples', 'sheets', 'ties', 'lengthMm'] as const) told[key] += found[key];
    if (found.misses.length > 0 || found.exemptMost > EXEMPT_MOST) {
      failed.push({ name, settings, exempt: found.exempt, misses: found.misses.slice(0, 5) });
    }
  }
  console.log(JSON.stringify(told));
  expect(failed).toEqual([]);
  expect(repeats.size).toBe(4);
  expect(told.drawings).toBe(DRAWINGS);
  expect(told.refused).toBeLessThan(0.05 * DRAWINGS);
  expect(told.ties).toBeGreaterThan(0);
});
