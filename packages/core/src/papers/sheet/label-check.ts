import { turnedCorners } from '../../draw/clear-space.js';
import { distanceTo, touches } from '../../draw/convex.js';
import { textTurnedBox } from '../../draw/label-box.js';
import type { ClipItem, Drawing, FontMetrics, Item, PathItem, TextItem } from '../../draw/types.js';
import { boxOf } from '../../geometry/boxes.js';
import { flattenCubic } from '../../geometry/flatten.js';
import { apply, IDENTITY, invert, multiply } from '../../geometry/matrix.js';
import { insideContours } from '../../geometry/point-tests.js';
import { SquareIndex } from '../../geometry/square-index.js';
import type { Contour, Matrix, Point } from '../../geometry/types.js';
import type { Sheet, SheetOpening } from '../../stencil/types.js';
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
    | 'twice'
    | 'cut-off'
    | 'shortened';
  /** The label's text; of a leader, that of the label it comes from. */
  readonly text: string;
  /** Middle of the label, sheet mm. */
  readonly at: Point;
  /** The other label, or the number of the opening whose line is touched. */
  readonly other: string;
  /** Name of the page, where a whole drawing was checked. */
  readonly page?: string;
}

export interface LabelCheckOptions {
  readonly font: FontMetrics;
  /** Layers whose texts are checked; default `dots`, `labels`, `zones` and `ties`. */
  readonly layers?: readonly string[];
}

/** Outlines are known to this, mm: half the thinnest line of a drawing. */
const FLATTEN_MM = 0.03;
/** Side of the squares in which labels and lines are found, mm: about a label. */
const CELL_MM = 10;
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
  const near = new SquareIndex<Label>(CELL_MM);
  for (const label of labels) {
    const fault = (kind: LabelFault['kind'], other: string): void => {
      faults.push({ kind, text: label.text, at: label.at, other });
    };
    const cut = cuts.near(boxOf(label.corners)).find(({ a, b }) => touches(label.corners, [a, b]));
    if (cut) fault('on-cut', `${cut.number}`);
    const other = near.near(boxOf(label.corners)).find(({ corners }) => touches(label.corners, corners));
    if (other) fault('on-label', other.text);
    if (label.corners.some(({ x, y }) => x < 0 || y < 0 || x > sheet.widthMm || y > sheet.heightMm))
      fault('off-paper', '');
    near.addBox(label, boxOf(label.corners));
  }
  return [...faults, ...numberFaults(sheet, labels, leadersIn(layers), cuts)];
}

/** What is wrong with how numbers belong to their openings. */
function numberFaults(
  { openings }: Sheet,
  labels: readonly Label[],
  leaders: readonly (readonly [Point, Point])[],
  cuts: SquareIndex<Cut>,
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
    const crossed = cuts.near(boxOf(led)).find((cut) => cut.number !== number && touches([cut.a, cut.b], led));
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

function cutsOf(openings: readonly SheetOpening[]): SquareIndex<Cut> {
  const cuts = new SquareIndex<Cut>(CELL_MM);
  for (const { number, firstCut, secondCut } of openings) {
    for (const contour of [...firstCut, ...secondCut]) {
      const points = flattened(contour);
      for (let k = 1; k < points.length; k++) {
        const [a, b] = [points[k - 1], points[k]];
        cuts.addBox({ number, a, b }, boxOf([a, b]));
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

/** Texts nearer to the printable area's edge than this are within it, mm: rounding of the drawing (0.1 µm) and of sums of advances. */
const ROUNDING_MM = 1e-3;
/** A group whose area is shown at less than this share is a small picture of it, and its texts are not there to be read. */
const REDUCED = 0.8;
/** A text that is cut is looked at in parts of this length, mm. */
const PARTS_MM = 0.5;
/** Two texts that share no more than this, mm, do not run into each other: side bearings are wider. */
const SHARED_MM = 0.05;

export interface TextCheckOptions {
  readonly font: FontMetrics;
  /** What the printer leaves blank along every edge; 0 by default: a text may stand anywhere on the paper. */
  readonly marginMm?: number;
}

/** A text as a page shows it. */
interface ShownText extends Label {
  /** Of a text in a placed group: which it is. */
  readonly key: string | null;
  /** Which of its parts, along it, no clip hides; it is cut where that are not all. */
  readonly seen: readonly boolean[];
  readonly cut: boolean;
}

/**
 * Everything that is wrong with where the texts of a whole drawing stand, found from its display list and the font's advances: a text that reaches out of the printable area
 * (`off-paper`), that a clip cuts (`cut-off`; what pages show in parts has to be whole once they are joined), that runs into another
 * (`on-label`), or that was shortened with `…` and stands whole nowhere in the drawing (`shortened`; a list that says with `, …` that it goes on is whole). What a clip hides altogether is no text of the page.
 */
export function textFaults({ pages, groups }: Drawing, { font, marginMm = 0 }: TextCheckOptions): LabelFault[] {
  const faults: LabelFault[] = [];
  const parts = new Map<string, { fault: LabelFault; seen: readonly boolean[] }>();
  const running: string[] = [];
  const shortened: LabelFault[] = [];
  for (const { name: page, widthMm, heightMm, items } of pages) {
    const low = marginMm - ROUNDING_MM;
    const [right, bottom] = [widthMm - low, heightMm - low];
    const near = new SquareIndex<ShownText>(CELL_MM);
    const texts = shownTexts(items, groups, font);
    for (const shown of texts) {
      const { text, at, corners, key } = shown;
      const fault = (kind: LabelFault['kind'], other = ''): LabelFault => ({ kind, text, at, other, page });
      if (shown.cut && key === null) faults.push(fault('cut-off'));
      if (key !== null) parts.set(key, { fault: fault('cut-off'), seen: union(parts.get(key)?.seen, shown.seen) });
      if (!shown.cut && corners.some(({ x, y }) => x < low || y < low || x > right || y > bottom))
        faults.push(fault('off-paper'));
      const inner = shrunk(corners);
      const other = shown.cut ? undefined : near.near(boxOf(inner)).find((one) => touches(inner, one.corners));
      if (other) faults.push(fault('on-label', other.text));
      if (!shown.cut) near.addBox(shown, boxOf(corners));
      if (/[^ ]…$/.test(text)) shortened.push(fault('shortened'));
    }
    running.push(texts.map(({ text }) => text).join(' '));
  }
  const said = running.join(' ');
  return [
    ...faults,
    ...[...parts.values()].filter(({ seen }) => seen.includes(false)).map(({ fault }) => fault),
    // Its beginning followed by more of the same text than the ellipsis stands for.
    ...shortened.filter(({ text }) => !continues(said, text.slice(0, -1))),
  ];
}

function shownTexts(items: readonly Item[], groups: Drawing['groups'], font: FontMetrics): ShownText[] {
  const texts: ShownText[] = [];
  const walk = (list: readonly Item[], matrix: Matrix, clips: readonly Clip[], key: string | null): void => {
    list.forEach((item, k) => {
      const own = key === null ? null : `${key}.${k}`;
      if (item.kind === 'layer') walk(item.items, matrix, clips, own);
      else if (item.kind === 'clip') walk(item.items, matrix, [...clips, { item, matrix }], own);
      else if (item.kind === 'place') {
        for (const at of item.at) {
          const [a, b, c, d] = at;
          // Shown small it is the look of a page or a sheet.
          if (Math.abs(a * d - b * c) > REDUCED)
            walk(groups[item.group] ?? [], multiply(matrix, at), clips, item.group);
        }
      } else if (item.kind === 'text' && item.text.trim() !== '') {
        const box = textTurnedBox(item, font);
        const corners = turnedCorners(box).map((p) => apply(matrix, p));
        const seen = partsOf(corners).map((p) => clips.every((clip) => isSeen(clip, p)));
        if (!seen.includes(true)) return;
        const cut = seen.includes(false);
        texts.push({ text: item.text, at: apply(matrix, box.at), corners, key: own, seen, cut });
      }
    });
  };
  walk(items, IDENTITY, [], null);
  return texts;
}

interface Clip {
  readonly item: ClipItem;
  readonly matrix: Matrix;
}

function isSeen({ item, matrix }: Clip, p: Point): boolean {
  const back = invert(matrix);
  return back !== null && insideContours(item.contours, apply(back, p));
}

/** The corners drawn in towards the middle, so that neighbours in a line don't count as running into each other. */
function shrunk(corners: readonly Point[]): Point[] {
  const x = corners.reduce((sum, p) => sum + p.x, 0) / corners.length;
  const y = corners.reduce((sum, p) => sum + p.y, 0) / corners.length;
  return corners.map((p) => {
    const far = Math.hypot(p.x - x, p.y - y);
    const by = far > 2 * SHARED_MM ? 1 - SHARED_MM / far : 0.5;
    return { x: x + by * (p.x - x), y: y + by * (p.y - y) };
  });
}

/** Places along both long sides of a text's box, half a mm apart or less. */
function partsOf([a, b, c, d]: readonly Point[]): Point[] {
  const count = 1 + Math.ceil(Math.hypot(b.x - a.x, b.y - a.y) / PARTS_MM);
  const on = (p: Point, q: Point, k: number): Point => {
    return { x: p.x + (k / count) * (q.x - p.x), y: p.y + (k / count) * (q.y - p.y) };
  };
  return Array.from({ length: count + 1 }, (_, k) => [on(a, b, k), on(d, c, k)]).flat();
}

function union(a: readonly boolean[] | undefined, b: readonly boolean[]): readonly boolean[] {
  return a === undefined ? b : b.map((seen, k) => seen || a[k]);
}

/** Whether a text goes on somewhere after a beginning. */
function continues(said: string, beginning: string): boolean {
  for (let k = said.indexOf(beginning); k >= 0; k = said.indexOf(beginning, k + 1)) {
    if (said[k + beginning.length] !== '…' && said[k + beginning.length] !== undefined) return true;
  }
  return false;
}
