import type { GreyImage } from '@okuri/core';
import type { Homography, LaidProof } from '@okuri/core/inside';
import { describe, expect, it } from 'vitest';
import { sampleProofSheet } from '../../../core/src/proof/sample-proof-sheet.test-help.js';
import { applyHomography, composeHomography } from '../scale/homography.js';
import { scaleFromResolution } from '../scale/picture-scale.js';
import { type LayProofOptions, layProof } from './lay-proof.js';
import { pictureOfPrint, type SamplePrint, scanFrame } from './proof-picture.test-help.js';

const SHEET = sampleProofSheet();
const PIXELS_PER_MM = 8;
const SCALE = scaleFromResolution({ across: PIXELS_PER_MM, down: PIXELS_PER_MM, unit: 'mm' }, 'file');

function scan(turnDeg: number, print: SamplePrint = {}) {
  const frame = scanFrame(SHEET, { pixelsPerMm: PIXELS_PER_MM, turnDeg });
  return { image: pictureOfPrint(SHEET, print, frame), toPicture: frame.toPicture };
}

/** The farthest that a corner of the field is laid from where it is. */
function misfit({ toSheet }: LaidProof, toPicture: Homography): number {
  const { x0, y0, x1, y1 } = SHEET.field;
  const places = [
    { x: x0, y: y0 },
    { x: x1, y: y0 },
    { x: x1, y: y1 },
    { x: x0, y: y1 },
  ];
  const off = places.map((p) => {
    const q = applyHomography(toSheet, applyHomography(toPicture, p));
    return Math.hypot(q.x - p.x, q.y - p.y);
  });
  return Math.max(...off);
}

const lay = (image: GreyImage, options: LayProofOptions = { scale: SCALE }) => layProof(image, SHEET, options);

describe('a scan of known resolution', () => {
  it.each([0, 3.3, 180, -117])('is laid when it is turned by %f°, whatever round berries stand in it', (turnDeg) => {
    const { image, toPicture } = scan(turnDeg);
    const laid = lay(image);
    expect(laid).toMatchObject({ by: 'dots', frame: 'rigid', missingDots: [] });
    expect(laid.dots.map(({ name }) => name)).toEqual(['A', 'B', 'C', 'D']);
    expect(misfit(laid, toPicture)).toBeLessThan(0.02);
    expect(laid.agreement).toBeGreaterThan(0.98);
    expect(laid.pixelsPerMm).toBeCloseTo(PIXELS_PER_MM, 6);
  });

  it('keeps its true size, so that a dot beside its place shows', () => {
    const dots = SHEET.dots.map((dot) => (dot.name === 'C' ? { ...dot, at: { x: dot.at.x + 0.8, y: dot.at.y } } : dot));
    const laid = lay(scan(2, { dots }).image);
    expect(laid.frame).toBe('rigid');
    // A shift of one of four dots by 0.8 mm: by least squares three quarters of it stay, less what the turn takes up.
    expect(Math.max(...laid.dots.map(({ offMm }) => offMm))).toBeGreaterThan(0.35);
  });

  it('is carried by its dots where the paper stretched', () => {
    const stretch = (p: { x: number; y: number }) => ({ x: p.x * 1.025, y: p.y * 1.005 });
    const dots = SHEET.dots.map((dot) => ({ ...dot, at: stretch(dot.at) }));
    const { image, toPicture } = scan(1, { dots, cut: stretch });
    const laid = lay(image);
    expect(laid.frame).toBe('stretched');
    expect(misfit(laid, composeHomography(toPicture, [1.025, 0, 0, 0, 1.005, 0, 0, 0, 1]))).toBeLessThan(0.02);
  });

  it('does without a dot, and tells which', () => {
    const { image, toPicture } = scan(4, { dots: SHEET.dots.filter(({ name }) => name !== 'B') });
    const laid = lay(image);
    expect(laid.missingDots).toEqual(['B']);
    expect(misfit(laid, toPicture)).toBeLessThan(0.03);
  });

  it('is taken for a photograph where its stated resolution is wrong', () => {
    const { image, toPicture } = scan(5);
    const laid = lay(image, { scale: scaleFromResolution({ across: 6, down: 6, unit: 'mm' }, 'file') });
    expect(laid).toMatchObject({ frame: 'perspective', scale: null });
    expect(misfit(laid, toPicture)).toBeLessThan(0.02);
  });

  it('may be light on dark', () => {
    const { image, toPicture } = scan(-2);
    const light = { ...image, values: image.values.map((v) => 255 - v) };
    expect(misfit(lay(light, { scale: SCALE, light: true }), toPicture)).toBeLessThan(0.02);
  });
});

/** The sheet seen from above at a slant: 900 px high. */
const CAMERA: Homography = composeHomography(
  [1, 0.06, 60, -0.04, 1.02, 60, 8e-5, 1.4e-4, 1],
  [7, 0, 0, 0, 7, 0, 0, 0, 1],
);

describe('a photograph', () => {
  const size = { toPicture: CAMERA, width: 1250, height: 1000 };

  it('is set right by its dots', () => {
    const laid = lay(pictureOfPrint(SHEET, {}, size), {});
    expect(laid).toMatchObject({ frame: 'perspective', scale: null, missingDots: [] });
    expect(misfit(laid, CAMERA)).toBeLessThan(0.03);
  });

  it('says which dots it shows where they are too few', () => {
    const image = pictureOfPrint(SHEET, { dots: SHEET.dots.filter(({ name }) => name !== 'D') }, size);
    expect(() => lay(image, {})).toThrow(
      /^Of the printed dots .*A.* were found and D was not, and a photograph needs four/,
    );
  });

  it('takes the corner dots from a person, and puts them on the printed dots', () => {
    const image = pictureOfPrint(SHEET, {}, size);
    const hand = [
      [4, -3],
      [-5, 2],
      [3, 4],
      [-2, -5],
    ];
    const corners = SHEET.dots.map(({ at }, k) => {
      const p = applyHomography(CAMERA, at);
      return { x: p.x + hand[k][0], y: p.y + hand[k][1] };
    });
    const laid = lay(image, { corners });
    expect(laid.by).toBe('points');
    expect(misfit(laid, CAMERA)).toBeLessThan(0.03);
    const [a, b, c, d] = corners;
    expect(() => lay(image, { corners: [b, c, d, a] })).toThrow(/does not agree with this sheet when the four places/);
  });
});

describe('a picture that can not be laid', () => {
  it('is refused when it shows the print from behind', () => {
    const { image } = scan(3);
    const { width, height, values } = image;
    const behind = values.map((_, k) => values[k - (k % width) + width - 1 - (k % width)]);
    expect(() => lay({ width, height, values: behind, white: 255 })).toThrow(/mirrored, as from the back/);
  });

  it('is refused when another sheet was printed', () => {
    const moved = (p: { x: number; y: number }) => ({ x: 30 + 0.6 * p.x, y: 25 + 0.6 * p.y });
    expect(() => lay(scan(0, { cut: moved }).image)).toThrow(
      /not this sheet \(\d+ % agree at best\): check that it is the proof/,
    );
  });

  it('is refused when no dots are there', () => {
    const none = { dots: [], leaveOut: SHEET.openings.map(({ number }) => number).filter((n) => n > 4) };
    expect(() => lay(scan(0, none).image)).toThrow(
      'None of the printed dots A, B, C and D (1 to 1.5 mm across) was found in the picture',
    );
  });

  it('is refused when dots would be specks', () => {
    const coarse = scaleFromResolution({ across: 2, down: 2, unit: 'mm' }, 'file');
    const frame = scanFrame(SHEET, { pixelsPerMm: 2, turnDeg: 0 });
    expect(() => lay(pictureOfPrint(SHEET, {}, frame), { scale: coarse })).toThrow(
      /3\.0 px across, too small to be found: scan the proof at 200 dpi or more/,
    );
  });
});
