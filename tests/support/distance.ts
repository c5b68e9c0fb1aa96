import { Resvg } from '@resvg/resvg-js';

/** A picture of what is inked. */
export interface InkPicture {
  readonly widthPx: number;
  readonly heightPx: number;
  /** 1 where a pixel is at least half inked. */
  readonly inked: Uint8Array;
}

/** Half inked: of 255. */
const HALF = 128;

/** Renders an SVG text `widthPx` wide (resvg). */
export function inkPicture(svg: string, widthPx: number): InkPicture {
  const image = new Resvg(svg, { fitTo: { mode: 'width', value: widthPx }, font: { loadSystemFonts: false } }).render();
  // Every read of `pixels` copies the picture.
  const pixels = image.pixels;
  const inked = new Uint8Array(image.width * image.height);
  for (let k = 0; k < inked.length; k++) inked[k] = pixels[4 * k + 3] >= HALF ? 1 : 0;
  return { widthPx: image.width, heightPx: image.height, inked };
}

/**
 * The distance of every pixel that is not `value` to the nearest one that is, centre to centre, px; 0 for those that are. Exact Euclidean
 * (P. Felzenszwalb and D. Huttenlocher, Distance Transforms of Sampled Functions, Theory of Computing 8, 2012): lower envelopes of parabolas, down the columns
 * and then along the rows.
 */
export function distanceTo({ widthPx, heightPx, inked }: InkPicture, value: 0 | 1): Float64Array {
  const squares = new Float64Array(inked.length);
  for (let k = 0; k < squares.length; k++) squares[k] = inked[k] === value ? 0 : (widthPx + heightPx) ** 2;
  const most = Math.max(widthPx, heightPx);
  const room = { line: new Float64Array(most), sites: new Int32Array(most), bounds: new Float64Array(most + 1) };
  for (let x = 0; x < widthPx; x++) lowerEnvelope(squares, x, widthPx, heightPx, room);
  for (let y = 0; y < heightPx; y++) lowerEnvelope(squares, y * widthPx, 1, widthPx, room);
  for (let k = 0; k < squares.length; k++) squares[k] = Math.sqrt(squares[k]);
  return squares;
}

interface Room {
  readonly line: Float64Array;
  readonly sites: Int32Array;
  readonly bounds: Float64Array;
}

/** Replaces `n` values from `first` on, `step` apart, by the least of `(k - i)² + value i` over all `i`. */
function lowerEnvelope(values: Float64Array, first: number, step: number, n: number, room: Room): void {
  const { line, sites, bounds } = room;
  for (let k = 0; k < n; k++) line[k] = values[first + k * step];
  let last = 0;
  sites[0] = 0;
  bounds[0] = -Infinity;
  bounds[1] = Infinity;
  for (let k = 1; k < n; k++) {
    let at = 0;
    for (; ; last--) {
      const site = sites[last];
      at = (line[k] + k * k - line[site] - site * site) / (2 * (k - site));
      if (at > bounds[last]) break;
    }
    sites[++last] = k;
    bounds[last] = at;
    bounds[last + 1] = Infinity;
  }
  for (let k = 0, site = 0; k < n; k++) {
    while (bounds[site + 1] < k) site++;
    const d = k - sites[site];
    values[first + k * step] = d * d + line[sites[site]];
  }
}

/** Where two thick parts of a picture meet through thinner material. */
export interface Pass {
  /** Middle of the pixel, px. */
  readonly x: number;
  readonly y: number;
  /** Distance to the bank there, px: the most of any way between the two. */
  readonly distancePx: number;
}

/**
 * The passes between parts that hold a pixel at least `thickPx` from the bank, where every way between them comes nearer to the bank than `thinPx`: pixels
 * are put together (with all eight neighbours) from the farthest on; `walls` are left out.
 */
export function thinPasses(
  distances: Float64Array,
  { widthPx, walls, thickPx, thinPx }: { widthPx: number; walls: Uint8Array; thickPx: number; thinPx: number },
): Pass[] {
  const order = farthestFirst(distances, walls);
  const parent = new Int32Array(distances.length).fill(-1);
  const peak = new Float64Array(distances.length);
  const find = (k: number): number => {
    let root = k;
    while (parent[root] !== root) root = parent[root];
    for (let at = k; parent[at] !== root; ) {
      const next = parent[at];
      parent[at] = root;
      at = next;
    }
    return root;
  };
  const passes: Pass[] = [];
  for (const k of order) {
    parent[k] = k;
    peak[k] = distances[k];
    const x = k % widthPx;
    for (let dy = -1; dy <= 1; dy++) {
      for (let dx = -1; dx <= 1; dx++) {
        const n = k + dy * widthPx + dx;
        if (n < 0 || n >= distances.length || x + dx < 0 || x + dx >= widthPx || parent[n] < 0) continue;
        const [p, q] = [find(k), find(n)];
        if (p === q) continue;
        if (Math.min(peak[p], peak[q]) >= thickPx && distances[k] < thinPx) {
          passes.push({ x: x + 0.5, y: Math.floor(k / widthPx) + 0.5, distancePx: distances[k] });
        }
        const [high, low] = peak[p] >= peak[q] ? [p, q] : [q, p];
        parent[low] = high;
      }
    }
  }
  return passes;
}

/** Numbers of the pixels of the material, walls left out, sorted by their squared distances, which are whole numbers. */
function farthestFirst(distances: Float64Array, walls: Uint8Array): Int32Array {
  const squares = Int32Array.from(distances, (d) => Math.round(d * d));
  let most = 0;
  for (let k = 0; k < squares.length; k++) {
    if (walls[k]) squares[k] = 0;
    most = Math.max(most, squares[k]);
  }
  const at = new Int32Array(most + 2);
  for (const s of squares) if (s > 0) at[most - s + 1]++;
  for (let k = 0; k <= most; k++) at[k + 1] += at[k];
  const order = new Int32Array(at[most + 1]);
  squares.forEach((s, k) => {
    if (s > 0) order[at[most - s]++] = k;
  });
  return order;
}
