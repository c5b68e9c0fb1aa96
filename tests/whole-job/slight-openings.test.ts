import { readFileSync } from 'node:fs';
import {
  type Box,
  boxContour,
  type Contour,
  checkDocument,
  contoursBox,
  type JobFile,
  type JobResult,
  type Lattice,
  type Point,
  runJob,
  type Shape,
} from '@okuri/core';
import {
  BLADE_MM,
  contourArea,
  LEAST_AREA_MM2,
  latticePoint,
  makeLattice,
  reverseContour,
  SEAM_SNAP_MM,
  sheetRepeat,
  stepsOnto,
  translateContour,
} from '@okuri/core/inside';
import { readSvg } from '@okuri/reader';
import fc from 'fast-check';
import { expect, it } from 'vitest';
import { areaApart, areaMissing, roomForDisc } from '../support/fine-area.js';
import { box, disc, jobOf, polygon, runShapes, shortRepeats } from './support.js';

// No cutter is given an opening that no blade can cut, or that lies past the edge of the design; and what the prints show over the cloth is
// still the drawing, but for what is stated to be lost.

const [WIDTH, HEIGHT] = [80, 60];
/** Areas agree to this, mm²: straight outlines, a metre of them, whose corners are rounded to 0.1 µm, a few of them all one way. */
const SAME_MM2 = 0.02;
const RUNS = 30;

/** A share that puts nothing on a seam exactly: what ends flush with one is another matter. */
const part = fc.integer({ min: 0, max: 996 }).map((n) => (n + 0.37) / 997);

/** A disc of straight sides: exact in any engine. */
function facets(id: string, { x, y }: Point, radius: number): Shape {
  const turn = (k: number): number => (2 * Math.PI * k) / 24;
  return polygon(
    id,
    Array.from({ length: 24 }, (_, k) => [x + radius * Math.cos(turn(k)), y + radius * Math.sin(turn(k))] as const),
  );
}

/** A shape that comes up to one of the four seams, short of it or past it by up to 0.7 mm; a hairline; or a tip that runs a little over a seam. */
const nearSeam = fc
  .record({
    kind: fc.constantFrom('disc', 'strip', 'hair', 'tip', 'plain'),
    side: fc.constantFrom('left', 'right', 'top', 'bottom'),
    along: part,
    size: part,
    past: part,
    width: part,
  })
  .map(({ kind, side, along, size, past, width }): Shape => {
    const upright = side === 'left' || side === 'right';
    const seam = side === 'right' ? WIDTH : side === 'bottom' ? HEIGHT : 0;
    const out = side === 'left' || side === 'top' ? -1 : 1;
    /** `a` mm along the seam, `d` mm out of the unit. */
    const at = (a: number, d: number): readonly [number, number] =>
      upright ? [seam + out * d, a] : [a, seam + out * d];
    const middle = along * (upright ? HEIGHT : WIDTH);
    const over = 1.4 * past - 0.7;
    if (kind === 'disc') {
      const radius = 0.5 + 4 * size;
      const [x, y] = at(middle, over - radius);
      return facets('disc', { x, y }, radius);
    }
    if (kind === 'strip') {
      const [[x0, y0], [x1, y1]] = [at(middle, over), at(middle + 2 + 20 * size, over - 0.1 - 0.7 * width)];
      return box('strip', Math.min(x0, x1), Math.min(y0, y1), Math.max(x0, x1), Math.max(y0, y1));
    }
    if (kind === 'hair') {
      const [x, y] = at(middle, -12 * past);
      const [turn, thick, length] = [size * Math.PI, 0.05 + 0.4 * width, 1 + 15 * along];
      const [c, s] = [Math.cos(turn), Math.sin(turn)];
      const corner = (u: number, v: number): readonly [number, number] => [x + u * c - v * s, y + u * s + v * c];
      return polygon('hair', [corner(0, 0), corner(length, 0), corner(length, thick), corner(0, thick)]);
    }
    if (kind === 'tip') {
      const tip = at(middle + 4 * width, 3 * past);
      return polygon('tip', [at(middle, -6), at(middle + 0.5 + 3 * size, -6), tip]);
    }
    const [x, y] = at(middle, -15 * past);
    return facets('plain', { x, y }, 1 + 5 * size);
  })
  .filter(({ contours }) => {
    // What lies outside of the unit but for the snap is left out as scrap, and what ends within it of a seam runs along that.
    const { x0, y0, x1, y1 } = contoursBox(contours) as Box;
    const sides = [x0, x1, x0 - WIDTH, x1 - WIDTH, y0, y1, y0 - HEIGHT, y1 - HEIGHT];
    return Math.min(x1, y1, WIDTH - x0, HEIGHT - y0) > 0 && sides.every((d) => Math.abs(d) > 2 * SEAM_SNAP_MM);
  });

const drawings = fc.array(nearSeam, { minLength: 1, maxLength: 9 }).map((shapes) => [
  // So that there is always something to cut.
  facets('core', { x: 40, y: 30 }, 4),
  ...shapes,
]);

function outlined(shape: Shape): Contour[] {
  return shape.contours.map((c) => (contourArea(c) < 0 ? reverseContour(c) : c));
}

/** All copies of outlines that reach into a box. */
function copiesIn(window: Box, contours: readonly Contour[], lattice: Lattice): Contour[] {
  return contours.flatMap((contour) =>
    stepsOnto(lattice, contoursBox([contour]) as Box, window).map((step) =>
      translateContour(contour, latticePoint(lattice, step)),
    ),
  );
}

/** What the drawing shows on a sheet's field and no print does, and what prints show and the drawing does not, mm². */
function clothError(shapes: readonly Shape[], { lattice, sheets: [sheet] }: JobResult) {
  const { field, across, down } = sheet;
  const window = [boxContour(field)];
  const drawn = shapes.flatMap(outlined).map((c) => translateContour(c, { x: field.x0, y: field.y0 }));
  const own = makeLattice(sheetRepeat(lattice.repeat, across, down), field.x1 - field.x0, field.y1 - field.y0);
  const cut = sheet.openings.flatMap(({ firstCut, secondCut }) => [...firstCut, ...secondCut]);
  const [asDrawn, asPrinted] = [copiesIn(field, drawn, lattice), copiesIn(field, cut, own)];
  return {
    missing: areaMissing(asDrawn, asPrinted, window),
    added: areaMissing(asPrinted, asDrawn, window),
  };
}

/** How much area may come or go as corners near a side of the unit are taken onto it, mm², on a sheet of so many units. */
function snapped(shapes: readonly Shape[], { lattice, sheets: [{ across, down }] }: JobResult): number {
  const unit = { x0: 0, y0: 0, x1: WIDTH, y1: HEIGHT };
  const beside = (v: number, end: number): boolean => Math.min(Math.abs(v), Math.abs(v - end)) < SEAM_SNAP_MM + 1e-4;
  let area = 0;
  for (const { coords } of copiesIn(unit, shapes.flatMap(outlined), lattice)) {
    const n = (coords.length - 2) / 6;
    const corner = (k: number): Point => ({ x: coords[6 * (k % n)], y: coords[6 * (k % n) + 1] });
    for (let k = 1; k <= n; k++) {
      const [o, p, q] = [corner(k - 1), corner(k), corner(k + 1)];
      if (!beside(p.x, WIDTH) && !beside(p.y, HEIGHT)) continue;
      area += (SEAM_SNAP_MM * (Math.hypot(p.x - o.x, p.y - o.y) + Math.hypot(q.x - p.x, q.y - p.y))) / 2;
    }
  }
  return area * across * down;
}

const jobs = fc.tuple(
  shortRepeats,
  fc.constantFrom('0mm', '0.1mm', '0.4mm', '1mm'),
  fc.constantFrom([1, 1], [1, 1], [2, 1], [1, 2], [3, 2]),
);

it('cuts nothing that is too slight or past the edge, and prints all else as it is drawn', () => {
  const told = { cases: 0, dropped: 0, lost: 0 };
  fc.assert(
    fc.property(drawings, jobs, (shapes, [repeat, lap, [across, down]]) => {
      const says = { ...repeat, spill: 'carry', lap, across, down } as Partial<JobFile>;
      const result = runShapes(shapes, [WIDTH, HEIGHT], says);
      const [sheet] = result.sheets;
      for (const { number, firstCut, secondCut, areaMm2 } of sheet.openings) {
        const all = [...firstCut, ...secondCut];
        expect(areaMm2, `area of ${number}`).toBeGreaterThanOrEqual(LEAST_AREA_MM2);
        expect(roomForDisc(all, BLADE_MM - 1e-3), `width of ${number}`).toBe(true);
        // A thin end that runs on past the hold line waits there as such; before the line there are none.
        for (const outer of firstCut.filter((contour) => contourArea(contour) > 0)) {
          expect(roomForDisc([outer], BLADE_MM - 1e-3), `first cut of ${number}`).toBe(true);
        }
        expect(areaApart('intersection', all, [boxContour(sheet.field)]), `${number} in the design`).toBeGreaterThan(0);
      }
      const listed = sheet.zones.flatMap(({ firstCut, secondCut }) => [...firstCut, ...secondCut]);
      expect(new Set(listed)).toEqual(new Set(sheet.openings.map(({ number }) => number)));
      const lostMm2 = sheet.dropped.reduce((sum, place) => sum + place.lostMm2, 0);
      const { missing, added } = clothError(shapes, result);
      const slackMm2 = SAME_MM2 + snapped(shapes, result);
      expect(added, 'printed and not drawn').toBeLessThan(slackMm2);
      expect(Math.abs(missing - lostMm2), `lost ${lostMm2}, missing ${missing}`).toBeLessThan(slackMm2);
      // Everything was carried over the seams: it meets by construction.
      expect(result.joins.filter(({ state }) => state !== 'meets')).toEqual([]);
      told.cases++;
      told.dropped += sheet.dropped.length;
      told.lost += lostMm2;
    }),
    { numRuns: RUNS },
  );
  // The cases are of the kind that is meant.
  expect(told.dropped).toBeGreaterThan(told.cases);
  expect(told.lost).toBeGreaterThan(1);
});

const MOTIFS = new URL('../../fixtures/motifs/', import.meta.url);
const carry = { repeat: 'straight', spill: 'carry' } as const;

function slightFindings({ findings }: JobResult) {
  return findings.filter(({ code }) => code === 'too-slight-to-cut');
}

it('takes the next print’s dots within the lap for no openings', () => {
  // Two dots that stop 0.3 and 0.05 mm short of the right seam: the lap of the left one reaches over them.
  const result = runShapes(
    [disc('a', { x: 80 - 3.3, y: 20 }, 3), disc('b', { x: 80 - 2.05, y: 40 }, 2)],
    [WIDTH, HEIGHT],
    carry,
  );
  const [sheet] = result.sheets;
  expect(sheet.openings.map(({ box: { x0 } }) => x0 > sheet.field.x0 + 70)).toEqual([true, true]);
  expect(sheet.dropped.map(({ why, areaMm2, lostMm2 }) => [why, areaMm2, lostMm2])).toEqual([
    ['beyond-edge', 0, 0],
    ['beyond-edge', 0, 0],
  ]);
  // That is no fault and nothing is lost: nothing is said.
  expect(slightFindings(result)).toEqual([]);
  const document = checkDocument(result, 'dots.svg');
  expect([document.summary.openings, document.sheet?.openings]).toEqual([2, 2]);
});

it('lists no bar that ends flush with the edge of the design twice', () => {
  const motif = readSvg(readFileSync(new URL('brick-checks.svg', MOTIFS)));
  const { sheets } = runJob(motif, jobOf({ repeat: 'brick', width: '240mm' }));
  const [{ openings, field, dropped }] = sheets;
  expect(openings.filter(({ box }) => box.x1 <= field.x0 || box.y1 <= field.y0)).toEqual([]);
  expect(openings.every(({ areaMm2 }) => areaMm2 > 100)).toBe(true);
  expect(dropped.some(({ why }) => why === 'beyond-edge')).toBe(true);
});

it.each([
  ['right', { x: 75.2, y: 30 }],
  ['left', { x: 4.8, y: 30 }],
  ['bottom', { x: 40, y: 55.2 }],
  ['top', { x: 40, y: 4.8 }],
] as const)('cuts an end that runs 0.2 mm over the %s seam with the rest of its opening', (side, at) => {
  const result = runShapes([disc('a', at, 5)], [WIDTH, HEIGHT], { ...carry, lap: '0mm' });
  const [{ openings, field, dropped }] = result.sheets;
  expect(openings).toHaveLength(1);
  const [{ box, areaMm2 }] = openings;
  const past = { right: box.x1 - field.x1, left: field.x0 - box.x0, bottom: box.y1 - field.y1, top: field.y0 - box.y0 };
  expect(past[side]).toBeCloseTo(0.2, 3);
  expect(areaMm2).toBeCloseTo(25 * Math.PI, 2);
  expect(dropped).toHaveLength(1);
  // A segment of a circle 0.2 mm deep: r² arccos((r − d) / r) − (r − d) √(2 r d − d²).
  const segment = 25 * Math.acos(4.8 / 5) - 4.8 * Math.sqrt(2 * 5 * 0.2 - 0.2 ** 2);
  expect(dropped[0]).toMatchObject({ why: 'too-narrow', areaMm2: expect.closeTo(segment, 3) });
  expect(dropped[0].widthMm).toBeCloseTo(0.2, 1);
  expect(dropped[0].lostMm2).toBeLessThan(1e-4);
  // The drawing meets there as anywhere, whoever cuts it; and it is said once.
  expect(result.joins.map(({ state }) => state)).toEqual(['meets', 'meets']);
  expect(slightFindings(result)).toMatchObject([{ severity: 'note', measure: { places: 1 } }]);
});

it('tells how an end too slight to be cut was drawn beside its place, whether the other side of the seam is cut for it or not', () => {
  for (const [beside, lost] of [
    [0.9, false],
    [2.5, true],
  ] as const) {
    const width = lost ? 2 : 10;
    const halves = [box('right', 60, 10, 81, 10 + width), box('left', -1, 10 + beside, 0.15, 10 + width + beside)];
    const { joins, findings, sheets } = runShapes(halves, [WIDTH, HEIGHT], { ...carry, spill: 'trim' });
    expect(joins.map(({ state, offsetMm }) => [state, offsetMm])).toEqual([
      ['off', expect.closeTo(beside, 6)],
      ['off', expect.closeTo(beside, 6)],
    ]);
    expect(findings.filter(({ code }) => code === 'join-off').map(({ severity }) => severity)).toEqual(['fix', 'fix']);
    const lostMm2 = sheets[0].dropped.reduce((sum, place) => sum + place.lostMm2, 0);
    if (lost) expect(lostMm2).toBeCloseTo(0.3, 2);
    else expect(lostMm2).toBeLessThan(0.15);
  }
});

it('has no join where what comes to the seam is too slight on both sides, or meets nothing', () => {
  const speck = box('speck', -1, 40, 0.15, 42);
  const hair = box('hair', 20, 30, 81, 30.2);
  const { joins } = runShapes([box('core', 20, 5, 40, 15), speck, hair], [WIDTH, HEIGHT], { ...carry, spill: 'trim' });
  expect(joins).toEqual([]);
});

it('cuts a slit that the seam divides into two hairlines whole on one side', () => {
  const result = runShapes([box('slit', 79.8, 10, 80.21, 40)], [WIDTH, HEIGHT], carry);
  const [{ openings, field, dropped }] = result.sheets;
  expect(openings).toHaveLength(1);
  expect(openings[0].box.x0 - field.x0).toBeCloseTo(-0.2, 3);
  expect(openings[0].box.x1 - field.x0).toBeCloseTo(0.21, 3);
  expect(dropped.map(({ lostMm2 }) => lostMm2 < 1e-3)).toEqual([true]);
});

it('cuts a dot on the corner where four prints meet once and whole', () => {
  // Of 24 straight sides: 12 r² sin 15°.
  const areaMm2 = 12 * 0.25 ** 2 * Math.sin(Math.PI / 12);
  for (const [lap, at] of [
    ['0mm', { x: 0.02, y: 0.03 }],
    ['0.4mm', { x: 0.02, y: 0.03 }],
    ['0mm', { x: 0, y: 0 }],
    ['0mm', { x: -0.05, y: 0.07 }],
  ] as const) {
    const result = runShapes([facets('a', at, 0.25)], [WIDTH, HEIGHT], { ...carry, lap });
    const [{ openings, dropped }] = result.sheets;
    expect(openings.map((opening) => opening.areaMm2)).toEqual([expect.closeTo(areaMm2, 3)]);
    expect(dropped.reduce((sum, { lostMm2 }) => sum + lostMm2, 0)).toBeLessThan(1e-3);
  }
});

it('tells of a hairline that was drawn on purpose, and of how much of the print goes with it', () => {
  const shapes = [disc('a', { x: 20, y: 30 }, 5), box('hair', 40, 20, 70, 20.25)];
  const result = runShapes(shapes, [WIDTH, HEIGHT], carry);
  expect(result.sheets[0].openings).toHaveLength(1);
  expect(result.openings).toHaveLength(1);
  const [finding, ...more] = slightFindings(result);
  expect(more).toEqual([]);
  expect(finding).toMatchObject({ severity: 'look', measure: { lostMm2: expect.closeTo(7.5, 3), places: 1 } });
  expect(finding.message).toContain('7.5 mm² of the drawing will not print');
  expect(finding.atMm?.x).toBeCloseTo(55, 6);
  expect(finding.atMm?.y).toBeCloseTo(20.125, 6);
  expect(result.sheets[0].dropped).toMatchObject([{ why: 'too-narrow', widthMm: expect.closeTo(0.25, 1) }]);
  // A little wider a blade takes it out.
  const wider = [shapes[0], box('slit', 40, 20, 70, 20.32)];
  expect(runShapes(wider, [WIDTH, HEIGHT], carry).sheets[0].openings).toHaveLength(2);
});

it('refuses a drawing in which there is nothing that a blade can cut', () => {
  expect(() => runShapes([box('hair', 40, 20, 70, 20.25)], [WIDTH, HEIGHT], carry).openings).toThrow(
    /all of the artwork is narrower/,
  );
});

it('keeps the numbers of what is cut', () => {
  const spots = Array.from({ length: 12 }, (_, k) => disc(`s${k}`, { x: 8 + 6 * k, y: 12 + 9 * (k % 5) }, 1.5));
  const before = runShapes(spots, [WIDTH, HEIGHT], carry);
  // Where nobody cuts, no number is used; the others keep theirs.
  const crumbs = [box('speck', 50, 5, 50.1, 5.1), box('hair', 10, 3, 30, 3.2)];
  const kept = Object.entries(before.kept).map(([ink, list]) => [
    ink,
    list.map(({ number, x, y, areaMm2 }) => [number, x, y, areaMm2]),
  ]);
  const says = { ...carry, numbers: Object.fromEntries(kept) } as Partial<JobFile>;
  const after = runShapes([...crumbs, ...spots], [WIDTH, HEIGHT], says);
  const places = ({ sheets: [{ openings }] }: JobResult) =>
    openings.map(({ number, labelAt }) => ({ number, labelAt }));
  expect(places(after)).toEqual(places(before));
  expect(after.kept).toEqual(before.kept);
});
