import { flattenCubic } from '../geometry/flatten.js';
import type { Contour, Point } from '../geometry/types.js';
import type { Sheet, SheetOpening } from '../stencil/types.js';
import { turnedCorners } from './clear-space.js';
import { GridIndex } from './grid-index.js';
import { textTurnedBox } from './label-box.js';
import type { FontMetrics, Item, PathItem, TextItem } from './types.js';
import { numberWritten } from './unwritten-numbers.js';

/** What is wrong with a label of a drawing. */
export interface LabelFault {
  readonly kind:
    | 'on-cut'
    | 'on-label'
    | 'off-paper'
    | 'not-at-opening'
    | 'leader-over-cut'
    | 'unknown-number'
    | 'twice';
  /** The label's text; of a leader, that of the label it comes from. */
  readonly text: string;
  /** Middle of the label, sheet mm. */
  readonly at: Point;
  /** The other label, or the number of the opening whose line is touched. */
  readonly other: string;
}

export interface LabelCheckOptions {
  readonly font: FontMetrics;
  /** Layers whose texts are checked; default `dots`, `labels`, `zones` and `ties`. */
  readonly layers?: readonly string[];
}

/** Outlines are known to this, mm: half the thinnest line of a drawing. */
const FLATTEN_MM = 0.03;
/** A leader's end lies at its label when it is nearer to the label's ink than this, mm. */
const AT_LABEL_MM = 1.5;
const LABEL_LAYERS = ['zones', 'ties', 'dots', 'labels'];

/** A label by its text and the corners of its ink. */
interface Label {
  readonly text: string;
  readonly at: Point;
  readonly corners: readonly Point[];
}

/** A piece of a cut line. */
interface Cut {
  readonly number: number;
  readonly a: Point;
  readonly b: Point;
}

/**
 * Everything that is wrong with the labels of a sheet's drawing (as `drawCartoon` gives it, sheet mm, not mirrored), found from what is drawn: a label on a line that is cut or on another label, or
 * off the paper; an opening's number that stands neither inside its own opening nor at a leader that ends there; a leader that crosses a line of another
 * opening; a number written twice, or of no opening. Labels are taken by the ink of their capitals and tails. The check shares no search with the code
 * that places labels. None is the answer for a drawing without labels.
 */
export function labelFaults(sheet: Sheet, layers: readonly Item[], options: LabelCheckOptions): LabelFault[] {
  const { font, layers: checked = LABEL_LAYERS } = options;
  const labels = textsIn(layers, checked).map((item): Label => {
    const box = textTurnedBox(item, font);
    return { text: item.text, at: box.at, corners: turnedCorners(box) };
  });
  const cuts = cutsOf(sheet.openings);
  const faults: LabelFault[] = [];
  const near = new GridIndex<Label>();
  for (const label of labels) {
    const fault = (kind: LabelFault['kind'], other: string): void => {
      faults.push({ kind, text: label.text, at: label.at, other });
    };
    const cut = cuts.near(label.corners).find(({ a, b }) => touches(label.corners, [a, b]));
    if (cut) fault('on-cut', `${cut.number}`);
    const other = near.near(label.corners).find(({ corners }) => touches(label.corners, corners));
    if (other) fault('on-label', other.text);
    if (label.corners.some(({ x, y }) => x < 0 || y < 0 || x > sheet.widthMm || y > sheet.heightMm))
      fault('off-paper', '');
    near.add(label, label.corners);
  }
  return [...faults, ...numberFaults(sheet, labels, leadersIn(layers), cuts)];
}

/** What is wrong with how numbers belong to their openings. */
function numberFaults(
  { openings }: Sheet,
  labels: readonly Label[],
  leaders: readonly (readonly [Point, Point])[],
  cuts: GridIndex<Cut>,
): LabelFault[] {
  const byNumber = new Map(openings.map((o) => [o.number, o]));
  const seen = new Set<number>();
  return labels.flatMap((label): LabelFault[] => {
    const number = numberWritten(label.text);
    if (number === null) return [];
    const fault = (kind: LabelFault['kind'], other = ''): LabelFault[] => [
      { kind, text: label.text, at: label.at, other },
    ];
    const opening = byNumber.get(number);
    if (opening === undefined) return fault('unknown-number');
    if (seen.has(number)) return fault('twice');
    seen.add(number);
    if (isIn(opening, label.at)) return [];
    // Of the leaders that begin at the label, one has to end in the opening.
    const own = leaders.filter((ends) => ends.some((p) => distanceTo(label.corners, p) < AT_LABEL_MM));
    const led = own.find((ends) => ends.some((p) => isIn(opening, p)));
    if (led === undefined) return fault('not-at-opening');
    const crossed = cuts.near(led).find((cut) => cut.number !== number && touches([cut.a, cut.b], led));
    return crossed ? fault('leader-over-cut', `${crossed.number}`) : [];
  });
}

function textsIn(items: readonly Item[], layers: readonly string[]): TextItem[] {
  return layerItems(items, layers).filter((item) => item.kind === 'text');
}

/** Straight open lines of the layer `leaders`. */
function leadersIn(items: readonly Item[]): [Point, Point][] {
  return layerItems(items, ['leaders'])
    .filter((item): item is PathItem => item.kind === 'path' && item.line !== undefined)
    .flatMap(({ contours }) => contours)
    .filter(({ closed, coords }) => !closed && coords.length === 8)
    .map(({ coords }) => [
      { x: coords[0], y: coords[1] },
      { x: coords[6], y: coords[7] },
    ]);
}

function layerItems(items: readonly Item[], ids: readonly string[]): Item[] {
  return items.flatMap((item) => (item.kind === 'layer' && ids.includes(item.id) ? [...item.items] : []));
}

function cutsOf(openings: readonly SheetOpening[]): GridIndex<Cut> {
  const cuts = new GridIndex<Cut>();
  for (const { number, firstCut, secondCut } of openings) {
    for (const contour of [...firstCut, ...secondCut]) {
      const points = flattened(contour);
      for (let k = 1; k < points.length; k++) {
        const [a, b] = [points[k - 1], points[k]];
        cuts.add({ number, a, b }, [a, b]);
      }
    }
  }
  return cuts;
}

function flattened({ coords }: Contour): Point[] {
  const points = [{ x: coords[0], y: coords[1] }];
  for (let k = 0; k + 7 < coords.length; k += 6) flattenCubic(coords, k, FLATTEN_MM, (x, y) => points.push({ x, y }));
  return points;
}

/** By the crossings of a ray to the right, nonzero, over the part that the number belongs to: the first cut, or the second where there is none. */
function isIn({ firstCut, secondCut }: SheetOpening, p: Point): boolean {
  let winding = 0;
  for (const contour of firstCut.length > 0 ? firstCut : secondCut) {
    const points = flattened(contour);
    points.forEach((b, k) => {
      const a = points[(k + points.length - 1) % points.length];
      if (a.y <= p.y === b.y <= p.y) return;
      if (a.x + ((p.y - a.y) * (b.x - a.x)) / (b.y - a.y) > p.x) winding += b.y > a.y ? 1 : -1;
    });
  }
  return winding !== 0;
}

/** Whether two convex outlines (a line is one of two corners) share a point: no side of either parts them. */
function touches(one: readonly Point[], other: readonly Point[]): boolean {
  return ![one, other].some((points) =>
    points.some((a, k) => {
      const b = points[(k + 1) % points.length];
      // Along the side as well: lines end.
      return [
        { x: a.y - b.y, y: b.x - a.x },
        { x: b.x - a.x, y: b.y - a.y },
      ].some((axis) => {
        const [low, high] = spread(one, axis);
        const [least, most] = spread(other, axis);
        return high < least || most < low;
      });
    }),
  );
}

function spread(points: readonly Point[], axis: Point): [number, number] {
  const along = points.map((p) => p.x * axis.x + p.y * axis.y);
  return [Math.min(...along), Math.max(...along)];
}

/** Distance of a place from a convex outline; 0 inside. */
function distanceTo(corners: readonly Point[], p: Point): number {
  if (touches(corners, [p, p])) return 0;
  return Math.min(
    ...corners.map((a, k) => {
      const b = corners[(k + 1) % corners.length];
      const [dx, dy] = [b.x - a.x, b.y - a.y];
      const t = Math.max(0, Math.min(1, ((p.x - a.x) * dx + (p.y - a.y) * dy) / (dx * dx + dy * dy || 1)));
      return Math.hypot(p.x - a.x - t * dx, p.y - a.y - t * dy);
    }),
  );
}
