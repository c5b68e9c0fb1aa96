import { getDocument, OPS } from 'pdfjs-dist/legacy/build/pdf.mjs';

type Matrix = readonly [number, number, number, number, number, number];

/** A path as another PDF reader (pdf.js) sees it, its points in points of the page, the origin at the upper left, y down. */
export interface PdfPath {
  readonly paint: 'fill' | 'stroke' | 'both' | 'other';
  /** `#rrggbb`, of the fill or else of the line. */
  readonly colour: string;
  /** Width of the line, points of the page. */
  readonly lineWidth: number;
  readonly subpaths: readonly (readonly (readonly [number, number])[])[];
  /** The box of all ends of its lines and curves. */
  readonly box: { readonly x0: number; readonly y0: number; readonly x1: number; readonly y1: number };
}

export interface PdfPage {
  readonly widthPt: number;
  readonly heightPt: number;
  readonly paths: readonly PdfPath[];
}

/** Reads every page's paths, with all matrices multiplied by hand: those of the content, of forms, and of the page. */
export async function readPages(bytes: Uint8Array): Promise<PdfPage[]> {
  const task = getDocument({ data: bytes.slice(), verbosity: 0 });
  const document = await task.promise;
  const pages: PdfPage[] = [];
  for (let n = 1; n <= document.numPages; n++) pages.push(await readPage(await document.getPage(n)));
  await task.destroy();
  return pages;
}

type PdfjsPage = Awaited<ReturnType<Awaited<ReturnType<typeof getDocument>['promise']>['getPage']>>;

interface State {
  readonly matrix: Matrix;
  readonly fill: string;
  readonly line: string;
  readonly width: number;
}

async function readPage(page: PdfjsPage): Promise<PdfPage> {
  const [left, low, right, high] = page.view;
  const list = await page.getOperatorList();
  let state: State = { matrix: [1, 0, 0, 1, 0, 0], fill: '#000000', line: '#000000', width: 1 };
  const stack: State[] = [];
  const paths: PdfPath[] = [];
  list.fnArray.forEach((op, k) => {
    const args = list.argsArray[k];
    switch (op) {
      case OPS.save:
        stack.push(state);
        break;
      case OPS.restore:
        state = stack.pop() ?? state;
        break;
      case OPS.transform:
        state = { ...state, matrix: times(state.matrix, args as Matrix) };
        break;
      case OPS.paintFormXObjectBegin: {
        stack.push(state);
        const own = args[0] as Matrix | null;
        if (own) state = { ...state, matrix: times(state.matrix, own) };
        break;
      }
      case OPS.paintFormXObjectEnd:
        state = stack.pop() ?? state;
        break;
      case OPS.setLineWidth:
        state = { ...state, width: args[0] as number };
        break;
      case OPS.setFillRGBColor:
        state = { ...state, fill: args[0] as string };
        break;
      case OPS.setStrokeRGBColor:
        state = { ...state, line: args[0] as string };
        break;
      case OPS.constructPath: {
        const [paint, [data]] = args as [number, [Float32Array | null]];
        if (data) paths.push(pathOf(paint, data, state, { left, high }));
        break;
      }
      default:
    }
  });
  return { widthPt: right - left, heightPt: high - low, paths };
}

function pathOf(paint: number, data: Float32Array, state: State, page: { left: number; high: number }): PdfPath {
  const { matrix } = state;
  const on = (x: number, y: number): readonly [number, number] => [
    matrix[0] * x + matrix[2] * y + matrix[4] - page.left,
    page.high - (matrix[1] * x + matrix[3] * y + matrix[5]),
  ];
  const subpaths: (readonly [number, number])[][] = [];
  // pdf.js 5 packs paths as 0 moveTo x y, 1 lineTo x y, 2 curveTo with six numbers, 3 closePath.
  for (let k = 0; k < data.length; ) {
    const command = data[k++];
    if (command === 0) subpaths.push([on(data[k], data[k + 1])]);
    else if (command === 1) subpaths.at(-1)?.push(on(data[k], data[k + 1]));
    else if (command === 2) subpaths.at(-1)?.push(on(data[k + 4], data[k + 5]));
    else if (command !== 3) throw new Error(`got an unknown path command ${command}`);
    k += command === 2 ? 6 : command === 3 ? 0 : 2;
  }
  const all = subpaths.flat();
  const [xs, ys] = [0, 1].map((axis) => all.map((p) => p[axis]));
  const kind = PAINTS.get(paint) ?? 'other';
  return {
    paint: kind,
    colour: kind === 'stroke' ? state.line : state.fill,
    lineWidth: state.width * Math.sqrt(Math.abs(matrix[0] * matrix[3] - matrix[1] * matrix[2])),
    subpaths,
    box: { x0: Math.min(...xs), y0: Math.min(...ys), x1: Math.max(...xs), y1: Math.max(...ys) },
  };
}

const PAINTS: ReadonlyMap<number, PdfPath['paint']> = new Map([
  [OPS.fill, 'fill'],
  [OPS.eoFill, 'fill'],
  [OPS.stroke, 'stroke'],
  [OPS.closeStroke, 'stroke'],
  [OPS.fillStroke, 'both'],
  [OPS.eoFillStroke, 'both'],
  [OPS.closeFillStroke, 'both'],
]);

/** First `inner`, then `outer`, as `cm` multiplies (ISO 32000-1, 8.3.4). */
function times([a, b, c, d, e, f]: Matrix, [g, h, i, j, k, l]: Matrix): Matrix {
  return [a * g + c * h, b * g + d * h, a * i + c * j, b * i + d * j, a * k + c * l + e, b * k + d * l + f];
}
