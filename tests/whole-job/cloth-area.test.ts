import { InputError, type JobFile, type JobResult, runJob, type Shape } from '@okuri/core';
import { clothPicture, clothTile } from '@okuri/core/inside';
import { renderPixels } from '@okuri/writer';
import fc from 'fast-check';
import clipping from 'polygon-clipping';
import { describe, expect, it } from 'vitest';
import { multiArea, type Ring, ringOf } from '../support/flatten.js';
import { artwork, box, demoJob, disc, openAreaOf, repeats, runShapes, shortRepeats } from './support.js';

const size: readonly [number, number] = [72, 60];
const PIXELS_PER_MM = 4;

/** A softened pixel's level is rounded to 1/255, and the renderer's coverage is good to about 1/64, either way along an outline. */
const SHARE_TOLERANCE = 1e-3;
/** Corners lie on a grid of 0.1 µm: half a step to either side along the outline, in each of two engines. */
const GRID_MM = 1e-4;

/** The pattern's period across and down in units: what repeats straight. */
function periodOf({ lattice }: JobResult): { widthMm: number; lengthMm: number; units: number } {
  const { q } = lattice.repeat.step;
  const across = lattice.repeat.kind === 'drop' ? q : 1;
  const down = lattice.repeat.kind === 'brick' ? q : 1;
  return { widthMm: across * lattice.widthMm, lengthMm: down * lattice.heightMm, units: across * down };
}

/** The share of a cloth of whole periods that is open, from its picture. */
async function openShare(result: JobResult, periods: number): Promise<number> {
  const { widthMm, lengthMm } = periodOf(result);
  const cloth = { ...result.job.cloth, widthMm: periods * widthMm, lengthMm, colour: '#ffffff', dye: '#000000' };
  const picture = clothPicture({ ...result, job: { ...result.job, cloth } });
  const { data, channels, colours } = await renderPixels(picture, 0, { pixelsPerMm: PIXELS_PER_MM });
  // Openings keep the white of the cloth in a resist, and take the black dye in a direct print.
  // One channel is the share of the second colour; three are as many levels of white.
  const [low, high] = (channels === 3 ? ['#000000', '#ffffff'] : (colours ?? [])).map((c) => (c === '#ffffff' ? 1 : 0));
  let white = 0;
  for (const level of data) white += low * (255 - level) + high * level;
  const share = white / data.length / 255;
  return result.job.method === 'resist' ? share : 1 - share;
}

describe('the ink on a cloth of whole periods', () => {
  it('is placements × opening area, on the picture (random artwork, all repeats)', async () => {
    await fc.assert(
      fc.asyncProperty(
        shortRepeats,
        artwork(...size, 6),
        fc.constantFrom('resist' as const, 'direct' as const),
        fc.integer({ min: 1, max: 2 }),
        async (repeat, shapes, method, periods) => {
          const result = runUncovered(shapes, { ...repeat, method });
          const want = openAreaOf(result) / (size[0] * size[1]);
          expect(Math.abs((await openShare(result, periods)) - want)).toBeLessThan(SHARE_TOLERANCE);
        },
      ),
      { numRuns: 40, endOnFailure: true },
    );
  });

  it('is known in closed form for bars and discs (worked)', async () => {
    const shapes = [box('bar', 0, 10, 72, 22), disc('disc', { x: 40, y: 42 }, 9)];
    const result = runShapes(shapes, size, { repeat: 'half-drop', method: 'direct' });
    const area = 72 * 12 + Math.PI * 81;
    // Circles are drawn by cubics whose radius is 4e-6 too large at most.
    expect(Math.abs(openAreaOf(result) / area - 1)).toBeLessThan(1e-5);
    expect(Math.abs((await openShare(result, 1)) - area / (72 * 60))).toBeLessThan(SHARE_TOLERANCE);
  });

  it('is that of the openings for the demo', async () => {
    const { motif, job } = demoJob();
    const result = runJob(motif, job);
    const { widthMm, heightMm } = result.lattice;
    const want = openAreaOf(result) / (widthMm * heightMm);
    expect(Math.abs((await openShare(result, 1)) - want)).toBeLessThan(SHARE_TOLERANCE);
  });
});

describe('the tile that the cloth repeats, measured by another polygon engine (polygon-clipping 0.15.7)', () => {
  it('holds q units: its ink is q times the openings of one, for any fraction', () => {
    fc.assert(
      fc.property(repeats, artwork(...size, 6), (repeat, shapes) => {
        const result = runUncovered(shapes, repeat);
        const tile = clothTile(result.cell);
        const { units } = periodOf(result);
        expect([tile.widthMm, tile.heightMm]).toEqual([periodOf(result).widthMm, periodOf(result).lengthMm]);
        const { area, outlineMm, chordMm2 } = areaWithin(tile);
        const want = units * openAreaOf(result);
        expect(Math.abs(area - want)).toBeLessThan(2 * GRID_MM * outlineMm + chordMm2);
      }),
      { numRuns: 60, endOnFailure: true },
    );
  });

  it('is exact for polygons: bars of any place and size over every seam', () => {
    const whole = (min: number, max: number) => fc.integer({ min: min * 1000, max: max * 1000 }).map((um) => um / 1000);
    const bar = fc.tuple(whole(-14, 70), whole(-12, 58), whole(1, 30), whole(1, 24));
    fc.assert(
      fc.property(repeats, fc.array(bar, { minLength: 1, maxLength: 5 }), (repeat, bars) => {
        const shapes = bars.map(([x, y, w, h], k) => box(`bar${k}`, x, y, x + w, y + h));
        // What lies wholly outside is scrap, or belongs to what it lies on.
        fc.pre(bars.every(([x, y, w, h]) => x + w > 0 && y + h > 0));
        fc.pre(bars.every((one) => clearOfSeams(one, repeat.step)));
        const result = runShapes(shapes, size, { ...repeat, spill: 'carry' });
        const tile = clothTile(result.cell);
        const { area, outlineMm } = areaWithin(tile);
        expect(Math.abs(area - periodOf(result).units * openAreaOf(result))).toBeLessThan(2 * GRID_MM * outlineMm);
        // The same from the drawing alone: every copy of every bar, clipped to one unit.
        expect(Math.abs(unitArea(bars, result) - openAreaOf(result))).toBeLessThan(2 * GRID_MM * outlineMm);
      }),
      { numRuns: 80, endOnFailure: true },
    );
  });
});

/** A job on random artwork; where paper happens to cover all of it, the case is of no use. */
function runUncovered(shapes: readonly Shape[], says: Partial<JobFile>): JobResult {
  try {
    return runShapes(shapes, size, { ...says, spill: 'carry' });
  } catch (error) {
    fc.pre(!(error instanceof InputError && error.message.startsWith('There is nothing to cut')));
    throw error;
  }
}

/** What pokes out of the unit by less than 0.02 mm only touches the seam: sides that near one, under any step, are another matter. */
const TOUCH_MM = 0.03;

function clearOfSeams([x, y, w, h]: readonly number[], step = '0/1'): boolean {
  const q = Number(step.split('/')[1]);
  const clear = (at: number, side: number): boolean =>
    Math.abs(at - Math.round((at / side) * q) * (side / q)) > TOUCH_MM;
  return [x, x + w].every((at) => clear(at, size[0])) && [y, y + h].every((at) => clear(at, size[1]));
}

/** The area of a tile's contours between its edges, the length of their outlines, and what chords may cost. */
function areaWithin(tile: ReturnType<typeof clothTile>): { area: number; outlineMm: number; chordMm2: number } {
  const frame = rectangle(0, 0, tile.widthMm, tile.heightMm);
  let area = 0;
  let outlineMm = 2 * (tile.widthMm + tile.heightMm);
  let chordMm2 = 0;
  for (const { contours } of tile.inks) {
    for (const contour of contours) {
      const [fine, coarse] = [ringOf(contour, 16), ringOf(contour, 8)].map(onMicrons);
      outlineMm += lengthOf(fine);
      // The error of chords falls to a quarter when they are halved: what is left is a third of the last change. Taken whole.
      chordMm2 += Math.abs(multiArea([[fine]]) - multiArea([[coarse]]));
      // Outers and holes are measured one by one: they lie in one another wholly.
      area += Math.sign(signed(fine)) * multiArea(clipping.intersection([fine], frame) as Ring[][]);
    }
  }
  return { area, outlineMm, chordMm2 };
}

/** What a set of bars opens on one unit: all their copies, joined and clipped by polygon-clipping. */
function unitArea(bars: readonly (readonly number[])[], { lattice }: JobResult): number {
  const copies: Ring[][] = [];
  for (let i = -3; i <= 3; i++) {
    for (let j = -3; j <= 3; j++) {
      const [dx, dy] = [i * lattice.a.x + j * lattice.b.x, i * lattice.a.y + j * lattice.b.y];
      for (const [x, y, w, h] of bars) {
        copies.push(rectangle(x + dx, y + dy, x + w + dx, y + h + dy).map(onMicrons));
      }
    }
  }
  const [first, ...rest] = copies;
  const all = clipping.union(first, ...rest);
  return multiArea(clipping.intersection(all, rectangle(0, 0, lattice.widthMm, lattice.heightMm)) as Ring[][]);
}

function rectangle(x0: number, y0: number, x1: number, y1: number): Ring[] {
  return [
    [
      [x0, y0],
      [x1, y0],
      [x1, y1],
      [x0, y1],
      [x0, y0],
    ],
  ];
}

/** Corners that differ in their last bits only make polygon-clipping give up: it gets them on the engine's own grid of 0.1 µm. */
function onMicrons(ring: Ring): Ring {
  return ring.map(([x, y]) => [Math.round(x * 1e4) / 1e4, Math.round(y * 1e4) / 1e4]);
}

function signed(ring: Ring): number {
  return ring.reduce((sum, [x, y], k) => {
    const [u, v] = ring[(k + 1) % ring.length];
    return sum + x * v - u * y;
  }, 0);
}

function lengthOf(ring: Ring): number {
  return ring.reduce((sum, [x, y], k) => (k === 0 ? 0 : sum + Math.hypot(x - ring[k - 1][0], y - ring[k - 1][1])), 0);
}
