import type { Box, Point } from '@okuri/core';
import { field } from './paper-texture.js';
import { generator } from './proof-print.js';

/** A fold pressed flat again: light on its one side, dark in the crease; ink cracks along it. Sheet mm. */
export interface Fold {
  readonly from: Point;
  readonly to: Point;
  /** How much light the crease takes, 0 to 1. */
  readonly depth: number;
  /** Whether it stands up: then its crest is light and its far side dark. */
  readonly ridge?: boolean;
}

/** Where an eraser went over pencil. Sheet mm. */
export interface Smudge {
  readonly at: Point;
  readonly rx: number;
  readonly ry: number;
  readonly depth: number;
}

/** What has happened to a sheet, and what lies on the glass. */
export interface Wear {
  readonly folds?: readonly Fold[];
  readonly smudges?: readonly Smudge[];
  /** How much less light there is at the darkest side than in the middle, 0 to 1. */
  readonly unevenLight?: number;
  /** A thumb that holds the sheet: its shadow, mm of the seen part. */
  readonly thumb?: { readonly at: Point; readonly radiusMm: number; readonly depth: number };
  /** Grains of dust in a square decimetre: half of them dark, half light. Hairs are a tenth of that. */
  readonly dust?: number;
}

/** How ink and paper are changed by wear, place by place. */
export interface Darkening {
  /** Factor of the light that comes back from the sheet. */
  sheet(at: Point): number;
  /** How far ink has gone off, 0 to 1. */
  inkLighter(at: Point): number;
  /** Factor of the light at a place of the seen part, mm. */
  lamp(x: number, y: number): number;
  /** Lays dust and hairs on the picture's light. */
  dust(light: Float32Array, width: number, height: number, perMm: number): void;
}

/** Half the width of a crease, and of the shine beside it, mm. */
const CREASE_MM = 0.12;
const SHINE_MM = 0.7;

export function darkenBy(
  { folds = [], smudges = [], unevenLight = 0, thumb, dust = 0 }: Wear,
  { seed, part }: { seed: number; widthMm: number; heightMm: number; part: Box },
): Darkening {
  const along = field(seed, 0.5, 0.5);
  const rubbed = field(seed + 1, 0.25, 6);
  const random = generator(seed + 2);
  const [w, h] = [part.x1 - part.x0, part.y1 - part.y0];
  return {
    sheet(at) {
      let factor = 1;
      for (const fold of folds) {
        const off = offFold(fold, at);
        if (Math.abs(off) > 4 * SHINE_MM) continue;
        const side = fold.ridge === true ? -1 : 1;
        const crease = Math.exp(-((off / CREASE_MM) ** 2) / 2) * (0.75 + 0.45 * along(at.x, at.y));
        const shine = Math.exp(-(((off - side * SHINE_MM) / SHINE_MM) ** 2) / 2);
        const shade = Math.exp(-(((off + side * SHINE_MM) / SHINE_MM) ** 2) / 2);
        factor *= 1 - fold.depth * (side * crease - 0.25 * shine + 0.35 * shade);
      }
      for (const { at: middle, rx, ry, depth } of smudges) {
        const r2 = ((at.x - middle.x) / rx) ** 2 + ((at.y - middle.y) / ry) ** 2;
        if (r2 < 4) factor *= 1 - depth * Math.exp(-r2) * (0.75 + 0.5 * rubbed(at.x, at.y));
      }
      return factor;
    },
    inkLighter(at) {
      let gone = 0;
      for (const fold of folds) {
        const off = offFold(fold, at);
        if (Math.abs(off) > 4 * CREASE_MM) continue;
        const cracks = Math.max(0, along(at.x * 1.7 + 9, at.y * 1.7) + 0.35);
        gone = Math.max(
          gone,
          Math.min(0.75, 1.1 * fold.depth * 3 * cracks) * Math.exp(-((off / (0.7 * CREASE_MM)) ** 2) / 2),
        );
      }
      return gone;
    },
    lamp(x, y) {
      const [u, v] = [x / w - 0.5, y / h - 0.5];
      let factor = 1 - unevenLight * Math.max(0, 0.55 * u + 0.35 * v + 0.9 * (u * u + v * v) * 0.5);
      if (thumb !== undefined) {
        const r = Math.hypot(x - thumb.at.x, y - thumb.at.y) / thumb.radiusMm;
        factor *= 1 - thumb.depth / (1 + Math.exp(6 * (r - 1)));
      }
      return factor;
    },
    dust(light, width, height, perMm) {
      const count = Math.round((dust * w * h) / 10_000);
      const blot = (x: number, y: number, radius: number, to: number, share: number): void => {
        const reach = Math.ceil(radius + 1);
        for (let j = Math.floor(y) - reach; j <= y + reach; j++) {
          for (let i = Math.floor(x) - reach; i <= x + reach; i++) {
            if (i < 0 || j < 0 || i >= width || j >= height) continue;
            const covered = share * Math.min(1, Math.max(0, radius + 0.5 - Math.hypot(i + 0.5 - x, j + 0.5 - y)));
            light[j * width + i] += covered * (to - light[j * width + i]);
          }
        }
      };
      for (let k = 0; k < count; k++) {
        const radius = (0.04 + 0.16 * random() ** 2) * perMm;
        const light = k % 2 === 0;
        blot(random() * width, random() * height, radius, light ? 0.6 : 0.08, light ? 0.8 : 0.9);
      }
      for (let k = 0; k < count / 10; k++) {
        let [x, y, way] = [random() * width, random() * height, random() * 2 * Math.PI];
        const bend = (random() - 0.5) * 0.08;
        for (let step = 0; step < 3 * perMm; step++) {
          blot(x, y, 0.03 * perMm, 0.25, 0.5);
          x += Math.cos(way);
          y += Math.sin(way);
          way += bend;
        }
      }
    },
  };
}

/** How far a place lies off a fold, mm, to its right hand above zero; far off beyond its ends. */
function offFold({ from, to }: Fold, { x, y }: Point): number {
  const [dx, dy] = [to.x - from.x, to.y - from.y];
  const length = Math.hypot(dx, dy);
  const run = ((x - from.x) * dx + (y - from.y) * dy) / length;
  if (run < 0 || run > length) return Number.POSITIVE_INFINITY;
  return (dx * (y - from.y) - dy * (x - from.x)) / length;
}
