import { Resvg } from '@resvg/resvg-js';

/** Paper on a picture from an independent renderer: pixels less than half inked, those that hang together by their sides numbered alike. */
export interface PaperPicture {
  readonly widthPx: number;
  readonly heightPx: number;
  /** Number of every pixel's piece of paper; 0 where it is inked. Pieces at the edge of the picture have numbers of their own too. */
  readonly labels: Int32Array;
  /** Pieces that do not reach the picture's edge. */
  readonly loose: readonly PaperPiece[];
  /** Sum of all pixels' inked shares, px². */
  readonly inkPx2: number;
}

export interface PaperPiece {
  readonly label: number;
  readonly areaPx2: number;
  /** Middle of one of its pixels, px: the least inked one. */
  readonly at: { readonly x: number; readonly y: number };
}

/** Half inked: of 255. */
const HALF = 128;

/** Renders an SVG text (resvg) and counts its paper's connected components by their sides, not corners (4-connected). */
export function paperPieces(svg: string, widthPx: number): PaperPicture {
  const image = new Resvg(svg, { fitTo: { mode: 'width', value: widthPx }, font: { loadSystemFonts: false } }).render();
  const { width, height } = image;
  // Every read of `pixels` copies the picture.
  const pixels = image.pixels;
  const ink = new Uint8Array(width * height);
  let sum = 0;
  for (let k = 0; k < ink.length; k++) {
    ink[k] = pixels[4 * k + 3];
    sum += ink[k];
  }
  const labels = new Int32Array(ink.length);
  const open = new Int32Array(ink.length);
  const loose: PaperPiece[] = [];
  let label = 0;
  let waiting = 0;
  const reach = (k: number): void => {
    if (labels[k] !== 0 || ink[k] >= HALF) return;
    labels[k] = label;
    open[waiting++] = k;
  };
  for (let start = 0; start < labels.length; start++) {
    if (labels[start] !== 0 || ink[start] >= HALF) continue;
    label++;
    let areaPx2 = 0;
    let atEdge = false;
    let palest = start;
    reach(start);
    while (waiting > 0) {
      const k = open[--waiting];
      const x = k % width;
      areaPx2++;
      if (ink[k] < ink[palest]) palest = k;
      if (x === 0 || x === width - 1 || k < width || k >= labels.length - width) atEdge = true;
      if (x > 0) reach(k - 1);
      if (x < width - 1) reach(k + 1);
      if (k >= width) reach(k - width);
      if (k < labels.length - width) reach(k + width);
    }
    const x = palest % width;
    if (!atEdge) loose.push({ label, areaPx2, at: { x: x + 0.5, y: (palest - x) / width + 0.5 } });
  }
  return { widthPx: width, heightPx: height, labels, loose, inkPx2: sum / 255 };
}
