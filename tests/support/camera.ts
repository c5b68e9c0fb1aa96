import type { GreyImage, Point } from '@okuri/core';
import type { Homography } from '@okuri/core/inside';
import fc from 'fast-check';

/** A pinhole camera that looks at the middle of a sheet. */
export interface Camera {
  /** How far it is tilted from looking straight down, and which way the sheet lies under the tilt. */
  readonly tiltDeg: number;
  readonly towardsDeg: number;
  /** How far it is turned about the line of sight. */
  readonly turnDeg: number;
  readonly distanceMm: number;
  /** Of the picture, px. */
  readonly focalPx: number;
  readonly width: number;
  readonly height: number;
}

/** Sheet mm (from the upper left) to px, written out from the rotations, apart from the code under test: K [r1 r2 t]. */
export function cameraMap(camera: Camera, sheet: { readonly widthMm: number; readonly heightMm: number }): Homography {
  const [tilt, towards, turn] = [camera.tiltDeg, camera.towardsDeg, camera.turnDeg].map((deg) => (deg * Math.PI) / 180);
  const rotated = (x: number, y: number): [number, number, number] => {
    const [x1, y1] = [x * Math.cos(towards) - y * Math.sin(towards), x * Math.sin(towards) + y * Math.cos(towards)];
    const [y2, z2] = [y1 * Math.cos(tilt), y1 * Math.sin(tilt)];
    // Turned back by as much, so that the sheet stands upright but for `turn`.
    const back = turn - towards;
    return [x1 * Math.cos(back) - y2 * Math.sin(back), x1 * Math.sin(back) + y2 * Math.cos(back), z2];
  };
  const [mx, my] = [sheet.widthMm / 2, sheet.heightMm / 2];
  const across = rotated(1, 0);
  const down = rotated(0, 1);
  const [ox, oy, oz] = rotated(-mx, -my);
  const columns = [across, down, [ox, oy, oz + camera.distanceMm] as const];
  const [a, d, g] = columns.map(([x, y, z]) => [
    camera.focalPx * x + (camera.width / 2) * z,
    camera.focalPx * y + (camera.height / 2) * z,
    z,
  ]);
  return [a[0], d[0], g[0], a[1], d[1], g[1], a[2], d[2], g[2]];
}

export function through(h: Homography, { x, y }: Point): Point {
  const w = h[6] * x + h[7] * y + h[8];
  return { x: (h[0] * x + h[1] * y + h[2]) / w, y: (h[3] * x + h[4] * y + h[5]) / w };
}

/** Cameras from which a whole sheet of 600 × 900 mm is seen, up to 35° from straight above. */
export const cameras: fc.Arbitrary<Camera> = fc
  .record({
    tiltDeg: fc.double({ min: 0, max: 35, noNaN: true }),
    towardsDeg: fc.double({ min: 0, max: 360, noNaN: true }),
    turnDeg: fc.double({ min: 0, max: 360, noNaN: true }),
    distanceMm: fc.double({ min: 1100, max: 3000, noNaN: true }),
    perMm: fc.double({ min: 2.5, max: 5, noNaN: true }),
  })
  .map(({ perMm, ...pose }) => ({
    ...pose,
    focalPx: perMm * pose.distanceMm,
    width: 1400 * perMm,
    height: 1400 * perMm,
  }));

/**
 * What a camera sees of a sheet's picture: every pixel is the mean of `fine`² places, each carried to the sheet exactly; grey 0.35 beyond it. `h` maps
 * px of the photograph to px of the sheet's picture.
 */
export function photograph(
  sheet: GreyImage,
  h: Homography,
  { width, height, fine }: { readonly width: number; readonly height: number; readonly fine: number },
): Float64Array {
  const seen = new Float64Array(width * height);
  for (let j = 0; j < height; j++) {
    for (let i = 0; i < width; i++) {
      let sum = 0;
      for (let b = 0; b < fine; b++) {
        const y = j + (b + 0.5) / fine;
        for (let a = 0; a < fine; a++) {
          const x = i + (a + 0.5) / fine;
          const w = h[6] * x + h[7] * y + h[8];
          sum += greyAt(sheet, (h[0] * x + h[1] * y + h[2]) / w - 0.5, (h[3] * x + h[4] * y + h[5]) / w - 0.5);
        }
      }
      seen[j * width + i] = sum / fine ** 2;
    }
  }
  return seen;
}

function greyAt({ width, height, values, white }: GreyImage, u: number, v: number): number {
  const [i, j] = [Math.floor(u), Math.floor(v)];
  if (i < 0 || j < 0 || i >= width - 1 || j >= height - 1) return 0.35;
  const [a, b, k] = [u - i, v - j, j * width + i];
  const upper = values[k] * (1 - a) + values[k + 1] * a;
  const lower = values[k + width] * (1 - a) + values[k + width + 1] * a;
  return (upper * (1 - b) + lower * b) / white;
}
