import { COLOURS, GREY, lineStyle, type Meaning, WASTE_TINT, ZONE_GREY } from '../../draw/palette.js';
import { fitText, textWidthMm } from '../../draw/text.js';
import type { FontMetrics, Item } from '../../draw/types.js';
import { hasStoppedNumbers } from '../../draw/upright-numbers.js';
import { boxContour, circleContour, polyline } from '../../geometry/contour.js';
import type { Contour, Point } from '../../geometry/types.js';
import type { Sheet } from '../../stencil/types.js';
import { isPunched } from '../sheet/punch-marks.js';
import { cutsBeyondHoldLine } from '../sheet/sheet-words.js';

/** Every meaning in a few words, for the foot of a page that is read at arm's length. */
const WORDS = {
  'first-cut': 'first cut: grey comes out',
  'second-cut': '(7) second cut: not yet',
  'hold-line': 'hold line: cut no further yet',
  stop: 'stop: the cut ends here',
  tie: 'T1 tie: stays, never cut',
  'release-tie': 'R1 release tie: not yet',
  done: 'done ✓: cut before',
  punch: 'ø: punch, size in mm',
  dot: 'dot: punch',
  zone: 'zone Z1, Z2, …: not a cut',
  seam: 'edge of design: not a cut',
  leader: 'leads to a number: not a cut',
  'lead-edge': 'next placement: not a cut',
  'full-stop': 'full stop: at the foot of a number',
} as const satisfies Partial<Record<Meaning, string>>;

/** Where stops lie beyond the hold line, or only what crosses a seam is held. */
const HOLD_PASSED = 'hold line: past it only solid lines';

/** A line of the drawing, and what it means. */
export interface LegendEntry {
  readonly meaning: keyof typeof WORDS;
  readonly text: string;
  /** A second cut whose time has come: its waste is tinted. */
  readonly tinted?: boolean;
}

const EM_MM = 3.1;
/** Distance of lines, mm. */
const LEADING_MM = 4;
const SAMPLE_MM = 8;
/** Two long dashes and their gap. */
const HOLD_SAMPLE_MM = 19;
const SAMPLE_GAP_MM = 1.2;
const ENTRY_GAP_MM = 3;

/** What the legend of a sheet's pages has to explain, in the order in which it matters. */
export function pageLegendEntries(sheet: Sheet): LegendEntry[] {
  const { openings, stops, dots, zones, ties } = sheet;
  const shown: readonly (readonly [keyof typeof WORDS, boolean])[] = [
    ['first-cut', openings.some((o) => o.firstCut.length > 0)],
    ['second-cut', openings.some((o) => o.secondCut.length > 0)],
    ['hold-line', sheet.heldRight !== null || sheet.heldBottom !== null],
    ['stop', stops.length > 0],
    ['tie', ties.some((t) => t.kind === 'printed')],
    ['release-tie', ties.some((t) => t.kind === 'release')],
    ['done', openings.some((o) => o.done)],
    ['punch', openings.some(isPunched)],
    ['full-stop', hasStoppedNumbers(openings)],
    ['dot', dots.length > 0],
    ['zone', zones.length > 0],
    ['seam', true],
    ['leader', true],
  ];
  const hold = cutsBeyondHoldLine(sheet) ? HOLD_PASSED : WORDS['hold-line'];
  return shown
    .filter(([, yes]) => yes)
    .map(([meaning]) => ({ meaning, text: meaning === 'hold-line' ? hold : WORDS[meaning] }));
}

/** The entries of a legend in lines of a width. */
function legendLines(entries: readonly LegendEntry[], widthMm: number, font: FontMetrics): LegendEntry[][] {
  const lines: LegendEntry[][] = [];
  let x = 0;
  for (const entry of entries) {
    const own = entryWidth(entry, font);
    const line = lines[lines.length - 1];
    if (line === undefined || x + ENTRY_GAP_MM + own > widthMm) {
      lines.push([entry]);
      x = own;
    } else {
      line.push(entry);
      x += ENTRY_GAP_MM + own;
    }
  }
  return lines;
}

/** Height of a legend that is `widthMm` wide, mm; 0 for none. */
export function pageLegendHeight(entries: readonly LegendEntry[], widthMm: number, font: FontMetrics): number {
  return legendLines(entries, widthMm, font).length * LEADING_MM;
}

/** A piece of every kind of line and what it means in words, from `at` (upper left) on, in lines of `widthMm`. */
export function pageLegend(entries: readonly LegendEntry[], at: Point, widthMm: number, font: FontMetrics): Item[] {
  return legendLines(entries, widthMm, font).flatMap((line, row) => {
    let x = at.x;
    return line.flatMap((entry): Item[] => {
      const { meaning } = entry;
      const textX = x + sampleWidth(meaning) + SAMPLE_GAP_MM;
      const middle = at.y + (row + 0.5) * LEADING_MM;
      const items = sample(entry, x, middle);
      const text = fitText(entry.text, at.x + widthMm - textX, { sizeMm: EM_MM }, font);
      const baseline = middle + (EM_MM * font.regular.capHeight) / font.regular.unitsPerEm / 2;
      const word: Item = {
        kind: 'text',
        text,
        x: textX,
        y: baseline,
        sizeMm: EM_MM,
        colour: COLOURS.black,
      };
      x += entryWidth(entry, font) + ENTRY_GAP_MM;
      return [...items, word];
    });
  });
}

function entryWidth({ meaning, text }: LegendEntry, font: FontMetrics): number {
  return sampleWidth(meaning) + SAMPLE_GAP_MM + textWidthMm(text, { sizeMm: EM_MM }, font);
}

function sampleWidth(meaning: Meaning): number {
  if (meaning === 'hold-line') return HOLD_SAMPLE_MM;
  return meaning === 'dot' || meaning === 'punch' ? 4 : SAMPLE_MM;
}

/** The line of a meaning as the drawing has it, in a piece of the sample's size around a middle line. */
function sample({ meaning, tinted = false }: LegendEntry, x: number, middle: number): Item[] {
  const line = lineStyle(meaning);
  const long = sampleWidth(meaning);
  const half = 1.4;
  const contour = boxContour({ x0: x, y0: middle - half, x1: x + long, y1: middle + half });
  const stroke = (...points: readonly (readonly [number, number])[]): Contour =>
    polyline(
      points.map(([u, v]) => ({ x: x + u, y: middle + v })),
      { closed: false },
    );
  switch (meaning) {
    case 'first-cut':
      return [{ kind: 'path', contours: [contour], line, fill: WASTE_TINT }];
    case 'second-cut':
      return [{ kind: 'path', contours: [contour], line, ...(tinted ? { fill: WASTE_TINT } : {}) }];
    case 'lead-edge': {
      const stripes = [1.2, 3.4, 5.6, 7.8].map((u) => stroke([u + half, -half], [u - half, half]));
      const thin = { colour: line.colour, widthMm: 0.13 };
      return [
        { kind: 'clip', contours: [contour], items: [{ kind: 'path', contours: stripes, line: thin }] },
        { kind: 'path', contours: [contour], line },
      ];
    }
    case 'done': {
      const hatch = [1.2, 3.4, 5.6, 7.8].map((u) => stroke([u + half, -half], [u - half, half]));
      return [
        { kind: 'clip', contours: [contour], items: [{ kind: 'path', contours: hatch, line }] },
        { kind: 'path', contours: [contour], line: { ...lineStyle('first-cut'), colour: GREY } },
      ];
    }
    case 'tie':
    case 'release-tie': {
      const release = meaning === 'release-tie';
      const sides = [stroke([1.8, -half], [long - 1.8, -half]), stroke([1.8, half], [long - 1.8, half])];
      const ends = release ? [0.3, 1.25, long - 1.25, long - 0.3] : [0.95, long - 0.95];
      return [
        { kind: 'path', contours: ends.map((u) => stroke([u, -half], [u, half])), line },
        { kind: 'path', contours: sides, line: lineStyle('first-cut') },
      ];
    }
    case 'stop':
      return [{ kind: 'path', contours: [stroke([1, 1.4], [1, 0], [SAMPLE_MM - 1, 0], [SAMPLE_MM - 1, 1.4])], line }];
    case 'dot': {
      const at = { x: x + long / 2, y: middle };
      return [
        { kind: 'path', contours: [circleContour(at, half)], line },
        { kind: 'path', contours: [circleContour(at, 0.6)], fill: COLOURS.green },
      ];
    }
    case 'punch': {
      const c = long / 2;
      const hole = circleContour({ x: x + c, y: middle }, half);
      return [
        { kind: 'path', contours: [hole], line: lineStyle('first-cut'), fill: WASTE_TINT },
        { kind: 'path', contours: [stroke([c - 1, 0], [c + 1, 0]), stroke([c, -1], [c, 1])], line },
      ];
    }
    case 'zone': {
      const bracket = stroke([0, half], [0, -half], [3, -half]);
      return [
        { kind: 'path', contours: [bracket], line: { colour: ZONE_GREY, widthMm: 0.35, join: 'miter' } },
        { kind: 'path', contours: [stroke([1, 0.2], [SAMPLE_MM, 0.2])], line },
      ];
    }
    case 'full-stop':
      return [{ kind: 'text', text: '68.', x, y: middle + half, sizeMm: 3.6, colour: COLOURS.black, bold: true }];
    case 'leader':
      return [
        { kind: 'path', contours: [stroke([0, 0], [long, 0])], line },
        { kind: 'path', contours: [circleContour({ x, y: middle }, 0.45)], fill: GREY },
      ];
    default:
      return [{ kind: 'path', contours: [stroke([0, 0], [long, 0])], line }];
  }
}
