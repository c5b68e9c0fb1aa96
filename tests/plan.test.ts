import { type Box, boxContour, type JobFile, type Plan, planCsv, runJob, type Sheet } from '@okuri/core';
import { makeLattice, makePlan, planDocument } from '@okuri/core/inside';
import clipping from 'polygon-clipping';
import { beforeAll, describe, expect, it } from 'vitest';
import { multiArea, type Ring, ringOf } from './support/flatten.js';
import { box, demoJob, runShapes } from './whole-job/support.js';

/** Paper that reaches less than this over an opening only touches it, mm (flattening, twice). */
const TOUCH_MM = 0.01;
/** polygon-clipping gives up on corners that differ in their last bits only: it gets whole µm. */
const MICRON = 1000;

interface Worked {
  readonly sheet: Sheet;
  readonly plan: Plan;
}

/** Openings of a sheet, mm from the field's upper left. */
function openRings({ openings, field }: Sheet): Ring[] {
  return openings.flatMap(({ firstCut, secondCut }) =>
    [...firstCut, ...secondCut].map((contour) =>
      ringOf(contour, 12).map(([x, y]): [number, number] => [whole(x - field.x0), whole(y - field.y0)]),
    ),
  );
}

/** Area that the paper (from the field's upper left) and openings moved by a vector share, mm². */
function sharedArea(paper: Box, rings: readonly Ring[], by: readonly [number, number]): number {
  const over: Box = { x0: paper.x0 - by[0], y0: paper.y0 - by[1], x1: paper.x1 - by[0], y1: paper.y1 - by[1] };
  const frame = ringOf(boxContour(over), 1).map(([x, y]): [number, number] => [whole(x), whole(y)]);
  const near = rings.filter((ring) => {
    const [xs, ys] = [ring.map(([x]) => x), ring.map(([, y]) => y)];
    const apart =
      Math.max(...xs) <= over.x0 ||
      Math.min(...xs) >= over.x1 ||
      Math.max(...ys) <= over.y0 ||
      Math.min(...ys) >= over.y1;
    return !apart;
  });
  return multiArea(near.flatMap((ring) => clipping.intersection([ring], [frame])));
}

function whole(mm: number): number {
  return Math.round(mm * MICRON) / MICRON;
}

/** Every pair of placements of one pass: the engine finds no paper on wet paste. Pairs that lie alike are looked at once. */
function expectDry({ sheet, plan }: Worked): number {
  const rings = openRings(sheet);
  const { field } = sheet;
  const paper: Box = {
    x0: -field.x0 + TOUCH_MM,
    y0: -field.y0 + TOUCH_MM,
    x1: sheet.widthMm - field.x0 - TOUCH_MM,
    y1: sheet.heightMm - field.y0 - TOUCH_MM,
  };
  const seen = new Map<string, number>();
  for (const a of plan.placements) {
    for (const b of plan.placements) {
      if (a === b || a.pass !== b.pass) continue;
      const by = [b.field.x0 - a.field.x0, b.field.y0 - a.field.y0] as const;
      const key = by.map((v) => v.toFixed(3)).join();
      if (!seen.has(key)) seen.set(key, sharedArea(paper, rings, by));
      expect(seen.get(key)).toBe(0);
    }
  }
  return seen.size;
}

function working(says: Partial<JobFile>, stepping: 'on' | 'every-other' = 'every-other'): Worked {
  const { motif, job } = demoJob(says);
  const result = runJob(motif, job);
  const [sheet] = result.sheets;
  const [w, h] = [(sheet.field.x1 - sheet.field.x0) / sheet.across, (sheet.field.y1 - sheet.field.y0) / sheet.down];
  const lattice = makeLattice(job.repeat, w, h);
  return { sheet, plan: makePlan(result.sheets, lattice, { cloth: { widthMm: 1000, lengthMm: 2000 }, stepping }) };
}

describe('the plan of the demonstration job', () => {
  let demo: Worked;
  beforeAll(() => {
    demo = working({});
  });

  it('prints no paper onto wet paste (polygon-clipping 0.15.7)', () => {
    expect(expectDry(demo)).toBeGreaterThan(0);
    // And it waits for a reason: every conflict is one by the same engine.
    const rings = openRings(demo.sheet);
    const { field, widthMm, heightMm } = demo.sheet;
    const paper: Box = { x0: -field.x0, y0: -field.y0, x1: widthMm - field.x0, y1: heightMm - field.y0 };
    const { a, b } = demo.plan.lattice;
    expect(demo.plan.choice.conflicts.length).toBeGreaterThan(0);
    for (const { i, j } of demo.plan.choice.conflicts) {
      const by = [i * a.x + j * b.x, i * a.y + j * b.y] as const;
      expect(sharedArea(paper, rings, by) + sharedArea(paper, rings, [-by[0], -by[1]])).toBeGreaterThan(0);
    }
  });

  it('needs three passes, as a half-drop with a border does, and says that none needs fewer', () => {
    expect(demo.plan.choice).toMatchObject({ count: 3, least: 3 });
  });

  it('covers the cloth once: areas add up, and points lie in one placement each', () => {
    const { placements } = demo.plan;
    const area = placements.reduce((sum, { visible: v }) => sum + (v.x1 - v.x0) * (v.y1 - v.y0), 0);
    expect(area / 2e6).toBeCloseTo(1, 12);
    for (let k = 0; k < 2000; k++) {
      // Places by two irrational turns: evenly spread, never on a side.
      const [x, y] = [1000 * ((k * Math.SQRT2) % 1), 2000 * ((k * Math.sqrt(3)) % 1)];
      const over = placements.filter(({ field: f }) => x >= f.x0 && x < f.x1 && y >= f.y0 && y < f.y1);
      expect(over).toHaveLength(1);
    }
  });

  it('takes the paste that its cut shapes ask for', () => {
    const { sheet, plan } = demo;
    const open = multiArea(
      clipping.union(
        [],
        ...openRings(sheet)
          .map((ring) => [ring])
          .filter(isOuter),
      ),
    );
    const holes = openRings(sheet).filter((ring) => !isOuter([ring]));
    const net = open - holes.reduce((sum, ring) => sum + multiArea([[ring]]), 0);
    // Twelve chords a curve lose far less than a thousandth.
    const ml = ((net * 0.7 * 2e6) / (plan.lattice.widthMm * plan.lattice.heightMm) / 1000) * 1.4;
    expect(plan.paste.ml / ml).toBeCloseTo(1, 2);
  });

  it('is the same in the table and in the document', () => {
    const rows = planCsv(demo.plan).trimEnd().split('\r\n').slice(1);
    const { placements } = planDocument(demo.plan);
    expect(rows).toHaveLength(placements.length);
    const byId = new Map(placements.map((p) => [p.id, p]));
    for (const row of rows) {
      const [id, , , pass, order, isWhole, x, y] = row.split(',');
      const p = byId.get(id)!;
      expect([p.pass, p.order, Number(p.whole), p.xMm, p.yMm]).toEqual([pass, order, isWhole, x, y].map(Number));
    }
  });
});

describe('a straight unit that is all opening', () => {
  it('takes four passes of a real sheet', () => {
    // Bars up to all four sides.
    const bars = [0, 1, 2, 3].map((k) => box(`bar-${k}`, 50 * k, 0, 50 * k + 45, 250));
    const { sheets } = runShapes(bars, [200, 250], { repeat: 'straight' });
    const lattice = makeLattice({ kind: 'straight', step: { p: 0, q: 1 } }, 200, 250);
    const plan = makePlan(sheets, lattice, { cloth: { widthMm: 800, lengthMm: 1500 } });
    expect(plan.choice).toMatchObject({ count: 4, least: 4 });
    expect(expectDry({ sheet: sheets[0], plan })).toBeGreaterThan(0);
  });
});

/** Whether a ring turns as an outer outline does: clockwise as seen, y down. */
function isOuter([ring]: readonly Ring[]): boolean {
  let twice = 0;
  for (const [k, [x, y]] of ring.entries()) {
    const [nx, ny] = ring[(k + 1) % ring.length];
    twice += x * ny - nx * y;
  }
  return twice > 0;
}
