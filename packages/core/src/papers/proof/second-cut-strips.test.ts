import { describe, expect, it } from 'vitest';
import { turnedCorners } from '../../draw/clear-space.js';
import { textTurnedBox } from '../../draw/label-box.js';
import { labelFont } from '../../draw/label-font.test-help.js';
import { COLOURS } from '../../draw/palette.js';
import type { Item, PathItem, TextItem } from '../../draw/types.js';
import { contoursBox } from '../../geometry/contour.js';
import { flattenCubic } from '../../geometry/flatten.js';
import type { Contour, Point } from '../../geometry/types.js';
import { secondCutStripDrawings } from '../../job/proof-drawings.js';
import { offsetsOf } from '../../job/proof-offsets.js';
import { HELD_DISC, secondCutJob, someOffsets } from '../../job/second-cut-job.test-help.js';
import { coverCheck } from '../../pages/cover-check.js';
import { findPaper } from '../../units/paper-sizes.js';
import { along, cutStrips } from '../sheet/cut-strip.js';
import { drySecondCut } from './dry-second-cut.js';
import { secondCutStrips } from './second-cut-strips.js';

const font = labelFont();
const planned = secondCutJob({ repeat: 'half-drop' });
const offsets = someOffsets(planned);
const proved = secondCutJob({ repeat: 'half-drop' }, offsets);
const [sheet] = proved.sheets;
const { ends } = planned.sheets[0];

function strips(more: object = {}) {
  const known = { ends, offsets: offsetsOf(proved, sheet), lattice: proved.lattice };
  return secondCutStrips(sheet, { job: proved.job, ...known, font, paper: findPaper('A4'), ...more });
}

function flat(items: readonly Item[]): Exclude<Item, { kind: 'clip' | 'layer' }>[] {
  return items.flatMap((item) => (item.kind === 'clip' || item.kind === 'layer' ? flat(item.items) : [item]));
}

const textsOf = (items: readonly Item[]) => flat(items).filter((i): i is TextItem => i.kind === 'text');
const pathsOf = (items: readonly Item[]) => flat(items).filter((i): i is PathItem => i.kind === 'path');

function points({ coords }: Contour): Point[] {
  const list: Point[] = [{ x: coords[0], y: coords[1] }];
  for (let k = 0; k + 7 < coords.length; k += 6) flattenCubic(coords, k, 0.02, (x, y) => list.push({ x, y }));
  return list;
}

/** Whether a straight piece comes into a convex outline: the two are not parted by a side of either (separating axes; Gottschalk and others, 1996). */
function meets(corners: readonly Point[], a: Point, b: Point): boolean {
  const sets = [corners, [a, b]];
  return !sets.some((set) =>
    set.some((p, k) => {
      const q = set[(k + 1) % set.length];
      const axis = { x: p.y - q.y, y: q.x - p.x };
      const [one, other] = sets.map((s) => s.map((r) => r.x * axis.x + r.y * axis.y));
      return Math.max(...one) < Math.min(...other) || Math.max(...other) < Math.min(...one);
    }),
  );
}

describe('secondCutStrips', () => {
  it('has a sheet with joins on both sides, whose second cut follows the proof', () => {
    expect(sheet.secondCutFrom).toBe('proof');
    expect(ends.joins.filter(({ seam }) => seam === 'right').length).toBeGreaterThanOrEqual(10);
    expect(ends.joins.filter(({ seam }) => seam === 'bottom').length).toBeGreaterThanOrEqual(6);
  });

  it('splits strips of 900 and 600 mm over pages that cover them', () => {
    const { drawing, strips: laid } = strips();
    expect(laid.map(({ strip }) => strip.seam)).toEqual(['right', 'bottom']);
    for (const { strip, plan } of laid) {
      const { box } = strip;
      expect([plan.widthMm, plan.heightMm]).toEqual([box.x1 - box.x0, box.y1 - box.y0]);
      expect(coverCheck(plan)).toMatchObject({ complete: true, gapMm: 0 });
    }
    // 918 mm by about 250 mm a page upright, 618 mm by about 270 mm a page lying on its side.
    expect(laid.map(({ plan }) => plan.pages.map(({ name }) => name))).toEqual([
      ['P1', 'P2', 'P3', 'P4'],
      ['P5', 'P6', 'P7'],
    ]);
    expect(drawing.pages).toHaveLength(1 + 4 + 3);
  });

  it('is true to scale: the disc in the held margin has its diameter on the page, times the printer correction', () => {
    const disc = (own: ReturnType<typeof strips>): number => {
      const second = pathsOf(own.drawing.groups['strip-right']).filter((p) => p.line?.colour === COLOURS.blue);
      const boxes = second.map(({ contours }) => contoursBox(contours) ?? { x0: 0, x1: 0 });
      const wide = boxes.map((b) => b.x1 - b.x0).find((w) => Math.abs(w - 2 * HELD_DISC.r) < 0.01) ?? 0;
      const page = own.drawing.pages.find(({ name }) => name === 'P1');
      const placed = flat(page?.items ?? []).find((i) => i.kind === 'place');
      return placed?.kind === 'place' ? wide * placed.at[0][0] : 0;
    };
    expect(disc(strips())).toBeCloseTo(2 * HELD_DISC.r, 3);
    const pages = { ...proved.job.pages, scaleAcross: 1.01 };
    expect(disc(strips({ job: { ...proved.job, pages } }))).toBeCloseTo(2.02 * HELD_DISC.r, 3);
  });

  it('names every join and every end of the first cut once, and no name or number stands on a cut or on another', () => {
    const { drawing } = strips();
    const names = Object.values(drawing.groups).flatMap((items) => textsOf(items).map(({ text }) => text));
    for (const { name } of [...ends.joins, ...ends.firstCutEnds]) {
      expect(names.filter((text) => text === name)).toEqual([name]);
    }
    for (const items of Object.values(drawing.groups)) {
      const labels = textsOf(items).map((item) => ({ item, corners: turnedCorners(textTurnedBox(item, font)) }));
      // What a clip hides is on no page.
      const [clip] = items;
      const seen = contoursBox(clip.kind === 'clip' ? clip.contours : []) ?? { x0: 0, y0: 0, x1: 0, y1: 0 };
      const inside = (p: Point) => p.x > seen.x0 && p.x < seen.x1 && p.y > seen.y0 && p.y < seen.y1;
      const cuts = pathsOf(items)
        .filter(({ line }) => line?.colour === COLOURS.blue || (line?.colour === '#8c8c8c' && line.widthMm === 0.18))
        .flatMap(({ contours }) => contours.flatMap((c) => points(c).map((p, k, all) => [p, all[k + 1] ?? p] as const)))
        .filter(([p, q]) => inside(p) && inside(q));
      expect(cuts.length).toBeGreaterThan(20);
      for (const { item, corners } of labels) {
        const on = cuts.some(([p, q]) => meets(corners, p, q));
        expect(on, item.text).toBe(false);
        const other = labels.find((l) => l.item !== item && l.corners.some((p) => meets(corners, p, p)));
        expect(other?.item.text, item.text).toBeUndefined();
      }
    }
  });

  it('shows the lead edges beyond the seam where the proof found them, in a line and with a fill that no cut has', () => {
    const [right, bottom] = cutStrips(sheet, { ends, offsets, lattice: proved.lattice });
    const by = new Map(offsets.map((o) => [o.name, o.offsetMm]));
    for (const join of ends.joins.filter(({ leadCut }) => leadCut !== 'second')) {
      const strip = join.seam === 'right' ? right : bottom;
      const at = along(join, by.get(join.name) ?? 0);
      const axis = join.seam === 'right' ? 'x' : 'y';
      const far = Math.min(
        ...strip.lead.flatMap((c) => {
          const list = points(c);
          return list.map((p, k) => {
            const q = list[(k + 1) % list.length];
            if (p[axis] < at[axis] === q[axis] < at[axis]) return Infinity;
            const t = (at[axis] - p[axis]) / (q[axis] - p[axis]);
            return Math.hypot(p.x + t * (q.x - p.x) - at.x, p.y + t * (q.y - p.y) - at.y);
          });
        }),
      );
      expect(far, join.name).toBeLessThan(0.01);
      // The second cut of this sheet comes to the same place: both sides meet.
      const own = sheet.openings.filter(({ number }) => number === join.own).flatMap(({ secondCut }) => secondCut);
      const near = Math.min(...own.flatMap((c) => points(c).map((p) => Math.hypot(p.x - at.x, p.y - at.y))));
      expect(near, join.name).toBeLessThan(0.1);
    }
    const lines = pathsOf(strips().drawing.groups['strip-right']).flatMap((p) => (p.line ? [p.line] : []));
    const lead = lines.find(({ dashMm }) => dashMm?.[0] === 1.6);
    const cut = lines.find(({ colour }) => colour === COLOURS.blue);
    expect(lead?.dashMm).not.toEqual(cut?.dashMm);
    expect(lead?.colour).not.toBe(COLOURS.black);
  });

  it('shows the traced print beyond the seam where there is one', () => {
    const printed = [
      {
        closed: true,
        coords: Float64Array.of(
          40,
          100,
          50,
          100,
          60,
          100,
          70,
          100,
          70,
          110,
          70,
          120,
          70,
          130,
          60,
          130,
          50,
          130,
          40,
          130,
          40,
          120,
          40,
          110,
          40,
          100,
        ),
      },
    ];
    const [right] = cutStrips(sheet, { ends, offsets, lattice: proved.lattice, printed });
    const boxes = right.lead.map((c) => contoursBox([c]));
    // The half-drop's columns to the right lie 450 mm lower and higher.
    expect(boxes).toContainEqual({ x0: 640, y0: 550, x1: 670, y1: 580 });
    expect(right.lead.length).toBeLessThanOrEqual(2);
  });

  it('says not to cut by strips of the plan', () => {
    const [drawing] = secondCutStripDrawings(planned, font);
    const said = drawing.pages.flatMap(({ items }) => textsOf(items).map(({ text }) => text)).join(' ');
    expect(said).toContain('Cut nothing by these strips before the printed proof is in hand.');
    expect(said).not.toContain('cut it now');
    const [now] = secondCutStripDrawings(proved, font);
    expect(now.pages.flatMap(({ items }) => textsOf(items).map(({ text }) => text)).join(' ')).toContain('cut it now');
  });

  it('fits the dry sheet where the paper moves when it is soaked', () => {
    const wet = secondCutJob({ repeat: 'half-drop', grain: 'upright', movement: { along: 2, across: 1 } });
    expect(wet.sheets[0].register.movement).toEqual({ widthPercent: 1, heightPercent: 2 });
    const [drawing] = secondCutStripDrawings(wet, font);
    const second = pathsOf(drawing.groups['strip-right']).filter((p) => p.line?.colour === COLOURS.blue);
    const sizes = second.map(({ contours }) => contoursBox(contours) ?? { x0: 0, y0: 0, x1: 0, y1: 0 });
    const dry = sizes.map((b) => Math.hypot(b.x1 - b.x0 - 18 / 1.01, b.y1 - b.y0 - 18 / 1.02));
    expect(Math.min(...dry)).toBeLessThan(1e-3);
    const [join] = wet.sheets[0].ends.joins;
    const known = drySecondCut(wet.sheets[0], {
      ends: { joins: [join], firstCutEnds: [] },
      offsets: [{ name: join.name, offsetMm: 1.02, turnDeg: 0, place: null }],
    });
    expect(known.offsets[0].offsetMm).toBeCloseTo(1, 9);
    expect(known.ends.joins[0].at.x).toBeCloseTo(known.sheet.field.x1, 9);
    expect(known.ends.joins[0].step.x).toBeCloseTo(known.sheet.field.x1 - known.sheet.field.x0, 9);
  });
});
