import { createRequire } from 'node:module';
import type { Contour, GreyImage } from '@okuri/core';
import { contourArea, reverseContour } from '@okuri/core/inside';

/** What of imagetracerjs 1.2.6 (Unlicense) is used here; it has no types of its own. */
interface ImageTracer {
  imagedataToTracedata(
    image: { width: number; height: number; data: Uint8ClampedArray },
    options: Record<string, unknown>,
  ): { layers: { isholepath: boolean; segments: Segment[] }[][]; palette: { r: number }[] };
}

type Segment = { type: 'L' | 'Q'; x1: number; y1: number; x2: number; y2: number; x3?: number; y3?: number };

const tracer = createRequire(import.meta.url)('imagetracerjs') as ImageTracer;

/** Outlines of the dark parts of a picture as imagetracerjs traces them in two colours, mm; its quadratic curves as cubics. */
export function imagetracerOutlines(
  image: GreyImage,
  { pixelMm, tolerancePx }: { pixelMm: number; tolerancePx: number },
): Contour[] {
  const { width, height, values } = image;
  const data = new Uint8ClampedArray(4 * values.length).fill(255);
  for (let k = 0; k < values.length; k++) data.fill(values[k], 4 * k, 4 * k + 3);
  const pal = [
    { r: 0, g: 0, b: 0, a: 255 },
    { r: 255, g: 255, b: 255, a: 255 },
  ];
  const options = { pal, colorquantcycles: 1, ltres: tolerancePx, qtres: tolerancePx, pathomit: 8 };
  const { layers, palette } = tracer.imagedataToTracedata({ width, height, data }, options);
  const dark = palette[0].r < palette[1].r ? layers[0] : layers[1];
  return dark.map(({ segments, isholepath }) => {
    const coords = [segments[0].x1, segments[0].y1];
    for (const { x1, y1, x2, y2, x3, y3 } of segments) {
      if (x3 === undefined || y3 === undefined) {
        coords.push((2 * x1 + x2) / 3, (2 * y1 + y2) / 3, (x1 + 2 * x2) / 3, (y1 + 2 * y2) / 3, x2, y2);
      } else {
        coords.push((x1 + 2 * x2) / 3, (y1 + 2 * y2) / 3, (2 * x2 + x3) / 3, (2 * y2 + y3) / 3, x3, y3);
      }
    }
    const contour = { closed: true, coords: Float64Array.from(coords, (v) => v * pixelMm) };
    return contourArea(contour) > 0 === isholepath ? reverseContour(contour) : contour;
  });
}
