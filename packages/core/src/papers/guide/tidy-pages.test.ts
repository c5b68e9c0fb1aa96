import { describe, expect, it } from 'vitest';
import { makePlan } from '../../cloth/plan.js';
import { planSheet } from '../../cloth/plan-sheet.test-help.js';
import { turnedCorners } from '../../draw/clear-space.js';
import { touches } from '../../draw/convex.js';
import { textTurnedBox } from '../../draw/label-box.js';
import { labelFont } from '../../draw/label-font.test-help.js';
import type { Drawing, Item, LineStyle, Page, TextItem } from '../../draw/types.js';
import { contoursBox } from '../../geometry/contour.js';
import type { Contour, Point } from '../../geometry/types.js';
import type { LeadEdge, PrintDifference, ProofReport, SheetEnds } from '../../proof/types.js';
import { makeLattice } from '../../repeat/lattice.js';
import { findPaper } from '../../units/paper-sizes.js';
import { printSheets } from '../cartoon/print-sheets.js';
import { placementMap } from '../map/placement-map.js';
import { proofFormDrawing } from '../proof/form.js';
import { proofMapDrawing } from '../proof/map.js';
import { proofDrawing } from '../proof/overlay.js';
import { guideDrawing } from './guide.js';
import { paperSheet } from './paper-sheet.test-help.js';
import { sampleSheet } from './sample-sheet.test-help.js';
import { zonedSheet } from './zoned-sheet.test-help.js';

/** Bold letters as wide as the others: a label of facts takes its column. */
const { regular } = labelFont();
const font = { regular, bold: regular };
const [W, H] = [330, 470];
const HALF_DROP = { kind: 'drop', step: { p: 1, q: 2 } } as const;
const lattice = makeLattice(HALF_DROP, W, H);
const sheet = zonedSheet(sampleSheet({ count: 60, fieldWidthMm: W, fieldHeightMm: H }), 2, 3);
const head = { title: 'Late reeds by the weir', revision: 'C', date: '2026-01-02', font };
const A4 = findPaper('A4');

const ends: SheetEnds = {
  joins: Array.from({ length: 17 }, (_, k) => {
    const right = k < 11;
    const at = right ? { x: sheet.field.x1, y: 70 + 30 * k } : { x: 60 + 20 * k, y: sheet.field.y1 };
    const step = right ? { x: W, y: (k < 5 ? -H : H) / 2 } : { x: 0, y: H };
    const lead = { x: at.x - step.x, y: at.y - step.y };
    return {
      name: `J${k + 1}`,
      seam: right ? 'right' : 'bottom',
      at,
      lead,
      step,
      own: k + 1,
      partner: 1,
      edge: 'begins',
    };
  }),
  firstCutEnds: [18, 19, 20].map((k) => {
    return { name: `J${k}`, at: { x: 90, y: 20 * k }, along: { x: 0, y: 1 }, opening: k };
  }),
};

const differences = sheet.openings.slice(4, 24).map(({ number, box, labelAt }, k): PrintDifference => {
  return { kind: k % 3 === 0 ? 'extra' : 'missing', number, areaMm2: 30 - k, deepMm: 2, at: labelAt, box };
});
const leadEdges = sheet.openings.slice(0, 16).map(({ number, labelAt }, k): LeadEdge => {
  const sides = k % 3 === 0 ? (['top'] as const) : (['left'] as const);
  const worstMm = (k % 2 === 0 ? 1 : -1) * (0.1 + 0.06 * k);
  return { number, sides, meanMm: worstMm / 3, worstMm, worstAt: labelAt, shownShare: 1, joins: [`J${k + 1}`] };
});
const report: ProofReport = {
  laid: {
    toSheet: [1, 0, 0, 0, 1, 0, 0, 0, 1],
    by: 'dots',
    frame: 'rigid',
    scale: null,
    dots: sheet.dots.map(({ name, at }, k) => ({ name, at, offMm: 0.02 * k })),
    missingDots: ['F'],
    pixelsPerMm: 12,
    agreement: 0.9,
  },
  spreadMm: 0.12,
  leadEdges,
  offsets: ends.joins.slice(0, 9).map(({ name }, k) => ({ name, offsetMm: 0.1 * k - 0.3, turnDeg: 0, place: null })),
  printedOffsets: [],
  unmeasured: ['J12', 'J13', 'J14'],
  differences,
  heldShare: 0,
  distances: { top: 330.1, right: 470.2, bottom: 330, left: 470.1, falling: 574.3, rising: 574.2 },
  square: null,
  printed: sheet.openings.flatMap(({ firstCut }) => firstCut),
};

const plan = makePlan([planSheet(lattice)], lattice, {
  cloth: { widthMm: 1140, lengthMm: 9000, selvedgeLeftMm: 12, selvedgeRightMm: 17, startMm: 60, endMm: 40 },
  faces: 'both',
});
const paperOf = (options: Parameters<typeof paperSheet>[1]) =>
  guideDrawing({
    ...head,
    statements: ['Printed with resist paste.'],
    lattice,
    sheets: [paperSheet(sheet, options)],
    joins: [],
    findings: [],
    paper: A4,
    plan,
  });

const DRAWINGS: readonly (readonly [name: string, drawing: Drawing, marginMm: number])[] = [
  ['a guide', paperOf({}), 8],
  ['a guide of a sheet with ties and weak places', paperOf({ tieEvery: 5, weak: 9, tongues: 2, longOpenings: 2 }), 8],
  ['a proof map', proofMapDrawing(sheet, { ...head, paper: A4, lattice, ends }), 8],
  ['a form for a proof', proofFormDrawing(sheet, { ...head, paper: A4, ends }), 8],
  ['a proof', proofDrawing(report, sheet, { ...head, paper: A4, ends }), 8],
  [
    'a map of placements',
    placementMap(plan, { ...head, paper: findPaper('A4'), orientation: 'auto', marginMm: 6 }),
    8 - 1e-6,
  ],
  [
    'print sheets',
    printSheets(sheet, {
      job: {
        ...head,
        pages: {
          orientation: 'auto',
          marginMm: 7,
          overlapMm: 10,
          mirror: false,
          skipBlank: false,
          scaleAcross: 1,
          scaleAlong: 1,
        },
      },
      cartoon: [],
      font,
      paper: findPaper('A4'),
      statements: ['Drawn for the cloth.'],
    }).drawing,
    7 - 1e-6,
  ],
];

const flat = (items: readonly Item[]): readonly Item[] =>
  items.flatMap((item) => (item.kind === 'clip' || item.kind === 'layer' ? [item, ...flat(item.items)] : [item]));

/** Words that lie over each other, by the boxes of their ink. */
function overlapping(items: readonly Item[]): string[] {
  const words = flat(items)
    .filter((i): i is TextItem => i.kind === 'text')
    .map((item) => ({ text: item.text, corners: turnedCorners(shrunk(item)) }));
  const spans = words.map(({ corners }) => {
    const ys = corners.map(({ y }) => y);
    return [Math.min(...ys), Math.max(...ys)];
  });
  return words.flatMap(({ text, corners }, k) =>
    words.flatMap((other, n) => {
      if (n <= k || spans[n][0] > spans[k][1] || spans[k][0] > spans[n][1]) return [];
      return touches(corners, other.corners) ? [`${text} | ${other.text}`] : [];
    }),
  );
}

function shrunk(item: TextItem): ReturnType<typeof textTurnedBox> {
  const box = textTurnedBox(item, font);
  return { ...box, halfU: box.halfU - 0.05, halfV: box.halfV - 0.05 };
}

/** Words of a page that do not lie on it whole, its margins left free. */
function beyond({ widthMm, heightMm, items }: Page, marginMm: number): string[] {
  const on = ({ x, y }: Point) =>
    x >= marginMm && x <= widthMm - marginMm && y >= marginMm && y <= heightMm - marginMm + 0.5;
  return flat(items).flatMap((item) =>
    item.kind === 'text' && !turnedCorners(shrunk(item)).every(on) ? [item.text] : [],
  );
}

/** Words through which a rule of a table or a heading runs: level lines longer than a third of the page. */
function struckOut({ widthMm, items }: Page): string[] {
  const rules = items.flatMap((item) =>
    item.kind === 'path' && item.line !== undefined && item.contours.length === 1 ? [contoursBox(item.contours)] : [],
  );
  const level = rules.filter((b) => b !== null && b.y1 - b.y0 < 1e-6 && b.x1 - b.x0 > widthMm / 3);
  return items.flatMap((item) => {
    if (item.kind !== 'text' || item.turn !== undefined) return [];
    const { at, halfU, halfV } = shrunk(item);
    const through = level.some(
      (b) => b !== null && Math.abs(b.y0 - at.y) < halfV && b.x0 < at.x + halfU && b.x1 > at.x - halfU,
    );
    return through ? [item.text] : [];
  });
}

/** Lines that can't be drawn, or would be taken for something else; 1.2 mm are the heaviest of any meaning. */
function oddLines(items: readonly Item[]): LineStyle[] {
  return flat(items).flatMap((item) => {
    if (item.kind !== 'path' || item.line === undefined) return [];
    const { widthMm, dashMm = [] } = item.line;
    const sound = widthMm >= 0.05 && widthMm <= 1.21 && dashMm.length % 2 === 0 && dashMm.every((mm) => mm > 0);
    return sound ? [] : [item.line];
  });
}

/** Boxes drawn from the wrong corner: all closed outlines of four straight sides run clockwise as seen. */
function turnedBoxes(items: readonly Item[]): Contour[] {
  return flat(items).flatMap((item) => {
    if (item.kind !== 'path' && item.kind !== 'clip') return [];
    return item.contours.filter(({ closed, coords: c }) => {
      if (!closed || c.length !== 26) return false;
      const [ax, ay, bx, by, cx, cy] = [c[0], c[1], c[6], c[7], c[12], c[13]];
      const level = Math.abs(ay - by) < 1e-6 && Math.abs(bx - cx) < 1e-6;
      return level && (bx - ax) * (cy - by) < -1e-9;
    });
  });
}

describe.each(DRAWINGS)('the pages of %s', (_, drawing, marginMm) => {
  it('have their words on the page, clear of each other and of rules', () => {
    for (const page of drawing.pages) {
      expect(beyond(page, marginMm), page.name).toEqual([]);
      expect(overlapping(page.items), page.name).toEqual([]);
      expect(struckOut(page), page.name).toEqual([]);
    }
  });

  it('have letters that can be read and lines that can be drawn', () => {
    for (const { items, name } of [...drawing.pages, { name: 'groups', items: Object.values(drawing.groups).flat() }]) {
      expect(oddLines(items), name).toEqual([]);
      expect(turnedBoxes(items), name).toEqual([]);
      for (const item of flat(items)) {
        if (item.kind === 'text') expect(item.sizeMm >= 1.6 - 1e-4 && item.sizeMm < 30, item.text).toBe(true);
      }
    }
  });
});
