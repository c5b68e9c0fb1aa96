import { getDocument, OPS } from 'pdfjs-dist/legacy/build/pdf.mjs';

type Matrix = readonly [number, number, number, number, number, number];

const MM_PER_PT = 25.4 / 72;

/** A path as pdf.js sees it painted: mm on the page. */
export interface PaintedPath {
  /** Width of the stroke; null for a path that is only filled. */
  readonly lineMm: number | null;
  readonly dashMm: readonly number[];
  readonly stroke: string;
  /** Null for a path that is only stroked. */
  readonly fill: string | null;
  /** Sides of the box around its control points, mm on the page. */
  readonly sizeMm: readonly [width: number, height: number];
}

/** A word as pdf.js sees it. */
export interface PaintedWord {
  readonly text: string;
  /** Em size, mm on the page. */
  readonly emMm: number;
}

/** What is painted on a page, placed forms included. */
export interface PaintedPage {
  readonly paths: readonly PaintedPath[];
  readonly words: readonly PaintedWord[];
}

interface State {
  matrix: Matrix;
  lineWidth: number;
  dash: readonly number[];
  stroke: string;
  fill: string;
}

const START: State = { matrix: [1, 0, 0, 1, 0, 0], lineWidth: 1, dash: [], stroke: '#000000', fill: '#000000' };

/** Every page of a PDF by an independent reader. */
export async function paintedPages(bytes: Uint8Array): Promise<PaintedPage[]> {
  const task = getDocument({ data: bytes.slice(), verbosity: 0 });
  const document = await task.promise;
  const pages: PaintedPage[] = [];
  for (let n = 1; n <= document.numPages; n++) {
    const page = await document.getPage(n);
    const list = await page.getOperatorList();
    const { items } = await page.getTextContent();
    pages.push({
      paths: painted(list.fnArray, list.argsArray),
      words: items.flatMap((item) => {
        if (!('str' in item) || item.str.trim() === '') return [];
        const [a, b] = item.transform as number[];
        return [{ text: item.str, emMm: Math.hypot(a, b) * MM_PER_PT }];
      }),
    });
  }
  await task.destroy();
  return pages;
}

function painted(ops: readonly number[], args: readonly unknown[]): PaintedPath[] {
  const paths: PaintedPath[] = [];
  const stack: State[] = [];
  let state = { ...START };
  ops.forEach((op, k) => {
    const values = args[k] as unknown[];
    if (op === OPS.save) stack.push({ ...state });
    else if (op === OPS.restore) state = stack.pop() ?? state;
    else if (op === OPS.transform) state.matrix = times(state.matrix, values as unknown as Matrix);
    else if (op === OPS.paintFormXObjectBegin) {
      stack.push({ ...state });
      if (values[0]) state.matrix = times(state.matrix, values[0] as Matrix);
    } else if (op === OPS.paintFormXObjectEnd) state = stack.pop() ?? state;
    else if (op === OPS.setLineWidth) state.lineWidth = values[0] as number;
    else if (op === OPS.setDash) state.dash = [...(values[0] as number[])];
    else if (op === OPS.setStrokeRGBColor) state.stroke = values[0] as string;
    else if (op === OPS.setFillRGBColor) state.fill = values[0] as string;
    else if (op === OPS.constructPath) {
      const [paint, , extent] = values as [number, unknown, ArrayLike<number> | null];
      const strokes = [OPS.stroke, OPS.closeStroke, OPS.fillStroke, OPS.eoFillStroke].includes(paint);
      const fills = [OPS.fill, OPS.eoFill, OPS.fillStroke, OPS.eoFillStroke].includes(paint);
      if (!strokes && !fills) return;
      const [a, b, c, d] = state.matrix;
      const scale = Math.sqrt(Math.abs(a * d - b * c)) * MM_PER_PT;
      paths.push({
        lineMm: strokes ? state.lineWidth * scale : null,
        dashMm: state.dash.map((length) => length * scale),
        stroke: state.stroke,
        fill: fills ? state.fill : null,
        sizeMm: extent === null ? [0, 0] : sizeUnder(state.matrix, extent),
      });
    }
  });
  return paths;
}

/** `x0 y0 x1 y1` under a map without a turn. */
function sizeUnder([a, , , d]: Matrix, extent: ArrayLike<number>): [number, number] {
  const [x0, y0, x1, y1] = Array.from(extent);
  return [Math.abs(a * (x1 - x0)) * MM_PER_PT, Math.abs(d * (y1 - y0)) * MM_PER_PT];
}

function times([a, b, c, d, e, f]: Matrix, [g, h, i, j, k, l]: Matrix): Matrix {
  return [a * g + c * h, b * g + d * h, a * i + c * j, b * i + d * j, a * k + c * l + e, b * k + d * l + f];
}
