import { getDocument, OPS } from 'pdfjs-dist/legacy/build/pdf.mjs';

type Matrix = [number, number, number, number, number, number];

/** A page of a PDF as another reader (pdf.js) sees it. */
export interface PdfPage {
  readonly widthPt: number;
  readonly heightPt: number;
  /** Signed areas of all filled paths summed (outers less holes), points squared. */
  readonly filledPt2: number;
}

/** Path commands in the packed arrays of pdf.js 5. */
const MOVE = 0;
const LINE = 1;
const CURVE = 2;
const CLOSE = 3;

/** Ways to paint a path that fill it. */
const FILLS: ReadonlySet<number> = new Set([
  OPS.fill,
  OPS.eoFill,
  OPS.fillStroke,
  OPS.eoFillStroke,
  OPS.closeFillStroke,
  OPS.closeEOFillStroke,
]);

/** Reads the first page of a PDF and measures what is filled on it, curves exactly. */
export async function readPdfPage(bytes: Uint8Array): Promise<PdfPage> {
  const task = getDocument({ data: bytes.slice(), verbosity: 0 });
  const document = await task.promise;
  const page = await document.getPage(1);
  const [x0, y0, x1, y1] = page.view;
  const list = await page.getOperatorList();
  let matrix: Matrix = [1, 0, 0, 1, 0, 0];
  const stack: Matrix[] = [];
  let filled = 0;
  list.fnArray.forEach((op, k) => {
    const args = list.argsArray[k];
    if (op === OPS.save) stack.push(matrix);
    else if (op === OPS.restore) matrix = stack.pop() ?? matrix;
    else if (op === OPS.transform) matrix = times(matrix, args as Matrix);
    else if (op === OPS.constructPath) {
      const [paint, [data]] = args as [number, [Float32Array | null]];
      if (FILLS.has(paint) && data) {
        filled += signedArea(data) * (matrix[0] * matrix[3] - matrix[1] * matrix[2]);
      }
    }
  });
  await task.destroy();
  return { widthPt: x1 - x0, heightPt: y1 - y0, filledPt2: Math.abs(filled) };
}

function times([a, b, c, d, e, f]: Matrix, [g, h, i, j, k, l]: Matrix): Matrix {
  return [a * g + c * h, b * g + d * h, a * i + c * j, b * i + d * j, a * k + c * l + e, b * k + d * l + f];
}

/** Green's formula over lines and cubics: half the integral of x dy − y dx. */
function signedArea(data: Float32Array): number {
  let sum = 0;
  let [sx, sy, x, y] = [0, 0, 0, 0];
  const line = (u: number, v: number) => {
    sum += x * v - u * y;
    [x, y] = [u, v];
  };
  for (let k = 0; k < data.length; ) {
    const command = data[k++];
    if (command === MOVE) {
      line(sx, sy);
      [sx, sy, x, y] = [data[k], data[k + 1], data[k], data[k + 1]];
      k += 2;
    } else if (command === LINE) {
      line(data[k], data[k + 1]);
      k += 2;
    } else if (command === CURVE) {
      const [x1, y1, x2, y2, x3, y3] = data.subarray(k, k + 6);
      sum +=
        (6 * (x * y1 - x1 * y) +
          3 * (x * y2 - x2 * y) +
          (x * y3 - x3 * y) +
          3 * (x1 * y2 - x2 * y1) +
          3 * (x1 * y3 - x3 * y1) +
          6 * (x2 * y3 - x3 * y2)) /
        10;
      [x, y] = [x3, y3];
      k += 6;
    } else if (command === CLOSE) {
      line(sx, sy);
    } else {
      throw new Error(`unknown path command ${command}`);
    }
  }
  line(sx, sy);
  return sum / 2;
}
