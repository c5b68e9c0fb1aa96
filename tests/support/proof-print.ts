import type { Contour, GreyImage, Point, Sheet } from '@okuri/core';
import type { Homography, SheetJoin } from '@okuri/core/inside';
import { applyHomography } from '@okuri/scan';
import { Resvg } from '@resvg/resvg-js';

/** How a simulated print differs from the plan. Sheet mm. */
export interface PrintFaults {
  /** Where the knife took a place of an outline instead. */
  readonly cut?: (at: Point) => Point;
  /** How far paste spread beyond every edge; below zero it drew back. */
  readonly spreadMm?: number;
  /** Where the dots printed instead of their places. */
  readonly dot?: (name: string, at: Point) => Point;
  readonly leaveOutDots?: readonly string[];
  /** Openings that did not print. */
  readonly leaveOut?: readonly number[];
  /** Discs of paste where none was planned. */
  readonly blots?: readonly { readonly at: Point; readonly radiusMm: number }[];
}

export interface Scanning {
  readonly dpi: number;
  readonly turnDeg?: number;
  /** Paper around the sheet on the glass. */
  readonly aroundMm?: number;
  readonly shift?: Point;
}

/** Longest chord between places at which a cut is displaced, mm. */
const CHORD_MM = 0.2;

/** The print of a sheet's first cut and dots as an SVG path in sheet mm. */
function printPath(sheet: Sheet, { cut = (p) => p, leaveOut = [] }: PrintFaults): string {
  const place = (p: Point): string => {
    const { x, y } = cut(p);
    return `${x.toFixed(4)} ${y.toFixed(4)}`;
  };
  const ring = ({ coords }: Contour): string => {
    const points: Point[] = [];
    for (let o = 0; o + 7 < coords.length; o += 6) {
      const length = Math.hypot(coords[o + 6] - coords[o], coords[o + 7] - coords[o + 1]);
      const parts = Math.max(8, Math.ceil((1.5 * length) / CHORD_MM));
      for (let k = 0; k < parts; k++) points.push(onCubic(coords, o, k / parts));
    }
    return `M${points.map(place).join('L')}Z`;
  };
  return sheet.openings
    .filter(({ number }) => !leaveOut.includes(number))
    .flatMap(({ firstCut }) => firstCut.map(ring))
    .join('');
}

/**
 * Where the knife's edges cross the lead seam: along it from a join's lead place, mm; the crossing nearest to where a shift by the cut alone would have it. Null
 * where no edge crosses near by.
 */
export function trueOffset(sheet: Sheet, { lead, seam, partner }: SheetJoin, cut: (at: Point) => Point): number | null {
  const down = seam === 'right';
  const [across, along] = down ? (['x', 'y'] as const) : (['y', 'x'] as const);
  const expected = cut(lead)[along] - lead[along];
  const own = sheet.openings.filter(({ number }) => number === partner).flatMap(({ firstCut }) => firstCut);
  let best: number | null = null;
  for (const { coords } of own) {
    let before: Point | null = null;
    for (let o = 0; o + 7 < coords.length; o += 6) {
      for (let k = 0; k <= 200; k++) {
        const p = cut(onCubic(coords, o, k / 200));
        if (before !== null && before[across] > lead[across] !== p[across] > lead[across]) {
          const t = (lead[across] - before[across]) / (p[across] - before[across]);
          const offset = before[along] + t * (p[along] - before[along]) - lead[along];
          if (best === null || Math.abs(offset - expected) < Math.abs(best - expected)) best = offset;
        }
        before = p;
      }
    }
  }
  return best !== null && Math.abs(best - expected) < 1.5 ? best : null;
}

function onCubic(q: Float64Array, o: number, t: number): Point {
  const u = 1 - t;
  const at = (k: number): number =>
    u ** 3 * q[o + k] + 3 * u * u * t * q[o + 2 + k] + 3 * u * t * t * q[o + 4 + k] + t ** 3 * q[o + 6 + k];
  return { x: at(0), y: at(1) };
}

/** A scan of the print, drawn by an independent renderer (resvg), and where sheet mm lie in it. */
export function scanOfPrint(
  sheet: Sheet,
  faults: PrintFaults,
  { dpi, turnDeg = 0, aroundMm = 12, shift = { x: 0, y: 0 } }: Scanning,
): { image: GreyImage; toPicture: Homography } {
  const scale = dpi / 25.4;
  const [w, h] = [sheet.widthMm + 2 * aroundMm, sheet.heightMm + 2 * aroundMm];
  const [width, height] = [Math.round(w * scale), Math.round(h * scale)];
  const spread = faults.spreadMm ?? 0;
  const [cos, sin] = [Math.cos((turnDeg * Math.PI) / 180), Math.sin((turnDeg * Math.PI) / 180)];
  const [cx, cy] = [sheet.widthMm / 2, sheet.heightMm / 2];
  const [tx, ty] = [w / 2 + shift.x - cos * cx + sin * cy, h / 2 + shift.y - sin * cx - cos * cy];
  const dots = sheet.dots
    .filter(({ name }) => faults.leaveOutDots?.includes(name) !== true)
    .map(({ name, at, diameterMm }) => ({ at: faults.dot?.(name, at) ?? at, radiusMm: diameterMm / 2 + spread }));
  const discs = [...dots, ...(faults.blots ?? [])]
    .map(({ at, radiusMm }) => `<circle cx="${at.x}" cy="${at.y}" r="${radiusMm}" stroke="none"/>`)
    .join('');
  // Spread is a line of twice its width along the edges: of ink, or of paper where the print drew back.
  const line = `stroke="${spread < 0 ? '#fff' : '#000'}" stroke-width="${2 * Math.abs(spread)}" stroke-linejoin="round"`;
  const svg =
    `<svg xmlns="http://www.w3.org/2000/svg" width="${width}" height="${height}" viewBox="0 0 ${width / scale} ${height / scale}">` +
    `<rect width="100%" height="100%" fill="#fff"/><g transform="matrix(${cos} ${sin} ${-sin} ${cos} ${tx} ${ty})">` +
    `<path d="${printPath(sheet, faults)}" fill="#000" ${spread === 0 ? '' : line}/>${discs}</g></svg>`;
  const pixels = new Resvg(svg, { font: { loadSystemFonts: false } }).render().pixels;
  const values = new Uint8Array(width * height);
  // Ink on paper: neither is all the light there is, nor none.
  for (let k = 0; k < values.length; k++) values[k] = Math.round(45 + (pixels[4 * k] * 190) / 255);
  return {
    image: { width, height, values, white: 255 },
    toPicture: [cos * scale, -sin * scale, tx * scale, sin * scale, cos * scale, ty * scale, 0, 0, 1],
  };
}

/** A photograph of a flat picture: `toPhoto` maps its px to those of the photograph; light falls off to one side, and the chip adds noise. */
export function photographed(
  flat: GreyImage,
  toPhoto: Homography,
  options: {
    readonly width: number;
    readonly height: number;
    readonly table?: number;
    readonly light?: (x: number, y: number) => number;
    readonly noise?: number;
  },
): GreyImage {
  const { width, height, table = 120, light = () => 1, noise = 0 } = options;
  const back = inverse(toPhoto);
  const random = generator(7);
  const values = new Uint8Array(width * height);
  const at = (x: number, y: number): number => {
    const [i, j] = [Math.floor(x - 0.5), Math.floor(y - 0.5)];
    if (i < 0 || j < 0 || i + 1 >= flat.width || j + 1 >= flat.height) return table;
    const [u, v] = [x - 0.5 - i, y - 0.5 - j];
    const k = j * flat.width + i;
    const { values: f } = flat;
    return (1 - v) * ((1 - u) * f[k] + u * f[k + 1]) + v * ((1 - u) * f[k + flat.width] + u * f[k + flat.width + 1]);
  };
  for (let y = 0; y < height; y++) {
    for (let x = 0; x < width; x++) {
      // Four places in a pixel: a chip's pixel gathers light over its area.
      let sum = 0;
      for (const [dx, dy] of [
        [0.25, 0.25],
        [0.75, 0.25],
        [0.25, 0.75],
        [0.75, 0.75],
      ]) {
        const p = applyHomography(back, { x: x + dx, y: y + dy });
        sum += at(p.x, p.y) / 4;
      }
      const grain = noise * (random() + random() + random() - 1.5) * 2;
      values[y * width + x] = Math.max(0, Math.min(255, Math.round(sum * light(x / width, y / height) + grain)));
    }
  }
  return { width, height, values, white: 255 };
}

function inverse(h: Homography): Homography {
  const [a, b, c, d, e, f, g, i, j] = h;
  return [
    e * j - f * i,
    c * i - b * j,
    b * f - c * e,
    f * g - d * j,
    a * j - c * g,
    c * d - a * f,
    d * i - e * g,
    b * g - a * i,
    a * e - b * d,
  ];
}

/** Numbers from 0 to 1, the same in every run (mulberry32). */
export function generator(seed: number): () => number {
  let state = seed;
  return () => {
    state = (state + 0x6d2b79f5) | 0;
    let t = Math.imul(state ^ (state >>> 15), 1 | state);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
}
