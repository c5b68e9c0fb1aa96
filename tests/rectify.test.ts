import type { GreyImage, Point } from '@okuri/core';
import type { Homography } from '@okuri/core/inside';
import type { PictureScale } from '@okuri/scan';
import {
  applyHomography,
  composeHomography,
  dotCentres,
  type FoundDot,
  findDots,
  fourOuterDots,
  homographyFrom,
  invertHomography,
  localAreaScale,
  scaleFromDots,
  scaleFromPoints,
} from '@okuri/scan';
import { Resvg } from '@resvg/resvg-js';
import fc from 'fast-check';
import PerspT from 'perspective-transform';
import sharp from 'sharp';
import { describe, expect, it } from 'vitest';
import { type Camera, cameraMap, cameras, photograph, through } from './support/camera.js';

const at = (x: number, y: number): Point => ({ x, y });
const corners = (w: number, h: number): Point[] => [at(0, 0), at(w, 0), at(w, h), at(0, h)];
const far = (a: Point, b: Point): number => Math.hypot(a.x - b.x, a.y - b.y);
const fit = (from: Point[], to: Point[]): Homography =>
  homographyFrom(from.map((p, k) => ({ from: p, to: to[k] }))) as Homography;

describe('published maps', () => {
  it('of the unit square (Heckbert 1989: the closed form; centre where the diagonals cross)', () => {
    const cases = [
      { to: [at(0, 0), at(4, 0), at(3, 2), at(1, 2)], h: [4, 2, 0, 0, 4, 0, 0, 1, 1], centre: at(2, 4 / 3) },
      {
        to: [at(0, 0), at(2, 0), at(3, 3), at(0, 1)],
        h: [6 / 7, 0, 0, 0, 6 / 7, 0, -4 / 7, -1 / 7, 1],
        centre: at(2 / 3, 2 / 3),
      },
    ];
    for (const { to, h, centre } of cases) {
      const found = fit(corners(1, 1), to);
      for (const [k, value] of h.entries()) expect(found[k]).toBeCloseTo(value, 13);
      expect(far(applyHomography(found, at(0.5, 0.5)), centre)).toBeLessThan(1e-13);
    }
    const third = fit(corners(1, 1), [at(10, 10), at(90, 20), at(80, 70), at(20, 60)]);
    expect(far(applyHomography(third, at(0.5, 0.5)), at(49, 43.428571))).toBeLessThan(1e-6);
  });

  it('of another library (perspective-transform 1.1.3, MIT): the same to its own rounding of 1e-10', () => {
    const jitter = fc.double({ min: -60, max: 60, noNaN: true });
    fc.assert(
      fc.property(fc.array(jitter, { minLength: 8, maxLength: 8 }), (off) => {
        const to = corners(300, 420).map((p, k) => at(100 + p.x + off[2 * k], 100 + p.y + off[2 * k + 1]));
        const ours = fit(corners(240, 320), to);
        const theirs = new PerspT(
          corners(240, 320).flatMap(({ x, y }) => [x, y]),
          to.flatMap(({ x, y }) => [x, y]),
        );
        for (const p of [at(120, 160), at(10, 300), at(200, 40)]) {
          const [x, y] = theirs.transform(p.x, p.y);
          expect(far(applyHomography(ours, p), at(x, y))).toBeLessThan(1e-4);
        }
      }),
      { numRuns: 60 },
    );
  });
});

describe('a sheet of 600 × 900 mm before random cameras', () => {
  const sheet = { widthMm: 600, heightMm: 900 };
  const places = [0.1, 0.35, 0.5, 0.8, 0.95].flatMap((u) => [0.05, 0.4, 0.7, 0.9].map((v) => at(600 * u, 900 * v)));

  it('comes back exactly', () => {
    fc.assert(
      fc.property(cameras, (camera) => {
        const truth = cameraMap(camera, sheet);
        const seen = corners(600, 900).map((p) => through(truth, p));
        fc.pre(seen.every(({ x, y }) => x >= 0 && y >= 0 && x <= camera.width && y <= camera.height));
        const { toMm } = scaleFromPoints(seen, { ...sheet, picture: camera, from: 'points' });
        for (const p of places) expect(far(applyHomography(toMm, through(truth, p)), p)).toBeLessThan(1e-9);
      }),
    );
  });

  it('comes back within 0.02 mm + 0.1 px from dots that are off by 0.1 px, over all their area', () => {
    const turn = fc.double({ min: 0, max: 2 * Math.PI, noNaN: true });
    fc.assert(
      fc.property(cameras, fc.tuple(turn, turn, turn, turn), (camera, turns) => {
        const truth = cameraMap(camera, sheet);
        const seen = corners(600, 900).map((p, k) => {
          const q = through(truth, p);
          return at(q.x + 0.1 * Math.cos(turns[k]), q.y + 0.1 * Math.sin(turns[k]));
        });
        fc.pre(seen.every(({ x, y }) => x >= 0 && y >= 0 && x <= camera.width && y <= camera.height));
        const { toMm } = scaleFromPoints(seen, { ...sheet, picture: camera, from: 'points' });
        const back = invertHomography(toMm) as Homography;
        for (const p of places) {
          const pixelMm = Math.sqrt(Math.abs(localAreaScale(toMm, through(truth, p))));
          const offPx = far(through(back, p), through(truth, p));
          expect(offPx).toBeLessThan(0.1 + 0.02 / pixelMm);
        }
      }),
    );
  });
});

/** Four dots of 3 mm at the corners of 150 × 200 mm, 20 mm within the paper, and forty berries of the same size within. */
const SHEET = { widthMm: 150, heightMm: 200 };
const EDGE = 20;
const MARKS = Array.from({ length: 40 }, (_, k) =>
  at(10 + 14.4 * (k % 10) + 1.37 * (k % 3), 14 + 45 * Math.floor(k / 10) + ((k * 7.3) % 23)),
);

function drawn(perMm: number, more = ''): GreyImage {
  const [w, h] = [SHEET.widthMm + 2 * EDGE, SHEET.heightMm + 2 * EDGE];
  const circle = ({ x, y }: Point, r: number): string =>
    `<circle cx="${x + EDGE}" cy="${y + EDGE}" r="${r}" fill="#161412"/>`;
  const svg = `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${w} ${h}"><rect width="${w}" height="${h}" fill="#efece4"/>${corners(
    SHEET.widthMm,
    SHEET.heightMm,
  )
    .map((p) => circle(p, 1.5))
    .join('')}${MARKS.map((p) => circle(p, 1.5)).join('')}${more}</svg>`;
  const image = new Resvg(svg, { fitTo: { mode: 'width', value: w * perMm } }).render();
  const pixels = image.pixels;
  const values = new Uint8Array(image.width * image.height);
  for (let k = 0; k < values.length; k++)
    values[k] = Math.round(0.2126 * pixels[4 * k] + 0.7152 * pixels[4 * k + 1] + 0.0722 * pixels[4 * k + 2]);
  return { width: image.width, height: image.height, values, white: 255 };
}

const PER_MM = 14;

function seenBy(camera: Camera, sheet: GreyImage): { readonly truth: Homography; readonly seen: Float64Array } {
  const truth = cameraMap(camera, SHEET);
  const onPaper: Homography = [PER_MM, 0, PER_MM * EDGE, 0, PER_MM, PER_MM * EDGE, 0, 0, 1];
  const back = composeHomography(onPaper, invertHomography(truth) as Homography);
  return { truth, seen: photograph(sheet, back, { ...camera, fine: 3 }) };
}

function asPicture(seen: Float64Array, { width, height }: Camera): GreyImage {
  return {
    width,
    height,
    white: 255,
    values: Uint8Array.from(seen, (v) => Math.min(255, Math.max(0, Math.round(255 * v)))),
  };
}

/**
 * How far the marks lie from their true places once the picture is set right by its four dots, beyond 0.1 px, mm: of those found in the picture, and of
 * the places at which the true camera shows them.
 */
function marksOff(
  dots: readonly FoundDot[],
  { toMm }: PictureScale,
  truth: Homography,
): { readonly found: number; readonly foundMm: number; readonly laidMm: number } {
  const toPicture = invertHomography(toMm) as Homography;
  let [found, foundMm, laidMm] = [0, Number.NEGATIVE_INFINITY, Number.NEGATIVE_INFINITY];
  for (const mark of MARKS) {
    const shown = through(truth, mark);
    const pixelMm = Math.sqrt(Math.abs(localAreaScale(toMm, shown)));
    laidMm = Math.max(laidMm, far(applyHomography(toMm, shown), mark) - 0.1 * pixelMm);
    const dot = dots.find((d) => far(d.at, shown) < d.diameter / 2);
    if (dot === undefined) continue;
    found++;
    const [centre] = dotCentres([dot], { toMm, toPicture });
    foundMm = Math.max(foundMm, far(applyHomography(toMm, centre), mark) - 0.1 * pixelMm);
  }
  return { found, foundMm, laidMm };
}

describe('a drawn sheet before a camera', () => {
  const slanting: Camera = {
    tiltDeg: 33,
    towardsDeg: 40,
    turnDeg: 12,
    distanceMm: 420,
    focalPx: 2500,
    width: 1500,
    height: 1700,
  };

  const { truth, seen } = seenBy(slanting, drawn(PER_MM));

  it('is set right by its four dots: 40 marks lie within 0.02 mm + 0.1 px', () => {
    const picture = asPicture(seen, slanting);
    const dots = findDots(picture, { minDiameterPx: 6, maxDiameterPx: 40 });
    expect(dots).toHaveLength(44);
    const four = fourOuterDots(dots, SHEET);
    const scale = scaleFromDots(four, { ...SHEET, picture });
    expect(scale).toMatchObject({
      from: 'dots',
      perspective: true,
      words: 'four dots 150 × 200 mm apart, slanting view set right',
    });
    const off = marksOff(dots, scale, truth);
    expect(off.found).toBe(40);
    expect(off.foundMm).toBeLessThan(0.02);
    expect(off.laidMm).toBeLessThan(0.02);
  });

  it('as a photograph: light that falls off, blur of 1.5 px, noise, a shadow over a dot, JPEG 70', async () => {
    const { width, height } = slanting;
    const corner = through(truth, at(150, 200));
    const lit = seen.map((v, k) => {
      const [x, y] = [k % width, Math.floor(k / width)];
      const shadow = 1 - 0.4 / (1 + Math.exp(-(x - corner.x + 0.6 * (y - corner.y)) / 3));
      return v * (1 - 0.35 * (x / width) * (y / height)) * shadow;
    });
    const blurred = await sharp(Buffer.from(asPicture(lit, slanting).values), { raw: { width, height, channels: 1 } })
      .blur(1.5)
      .toColourspace('b-w')
      .raw()
      .toBuffer();
    let state = 12345;
    const noise = (): number => {
      let sum = 0;
      for (let n = 0; n < 12; n++) {
        state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
        sum += state / 4294967296;
      }
      return sum - 6;
    };
    const noisy = Uint8Array.from(blurred, (v) => Math.min(255, Math.max(0, Math.round(v + 6 * noise()))));
    const jpeg = await sharp(Buffer.from(noisy), { raw: { width, height, channels: 1 } })
      .jpeg({ quality: 70 })
      .toBuffer();
    const { data, info } = await sharp(jpeg).toColourspace('b-w').raw().toBuffer({ resolveWithObject: true });
    const picture: GreyImage = { width: info.width, height: info.height, white: 255, values: Uint8Array.from(data) };
    const dots = findDots(picture, { minDiameterPx: 6, maxDiameterPx: 40 });
    const four = fourOuterDots(dots, SHEET);
    const off = marksOff(dots, scaleFromDots(four, { ...SHEET, picture }), truth);
    expect(off.found).toBe(40);
    expect(off.foundMm).toBeLessThan(0.02);
    expect(off.laidMm).toBeLessThan(0.02);
  });
});
