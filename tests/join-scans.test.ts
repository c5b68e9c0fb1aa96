import { readFileSync } from 'node:fs';
import type { GreyImage } from '@okuri/core';
import { joinScans } from '@okuri/scan';
import { Resvg } from '@resvg/resvg-js';
import { expect, it } from 'vitest';

// The whole drawing and every piece are rendered by resvg, an independent renderer: pieces afresh under their own motions, not cut from the whole.

const MOTIF = readFileSync(new URL('../fixtures/demo/motif.svg', import.meta.url), 'utf8');
const SHAPES = MOTIF.slice(MOTIF.indexOf('<g'), MOTIF.lastIndexOf('</svg>'));
const PER_MM = 150 / 25.4;
const [INK, PAPER] = [28, 232];
const INK_TO_PAPER = PAPER - INK;

/** Where the middle of a piece lies on the drawing (mm), and how it was laid on the glass: the piece shows the drawing turned by −turnDeg. */
interface Laid {
  readonly x: number;
  readonly y: number;
  readonly turnDeg: number;
}

const [WIDE, HIGH] = [180, 240];
// 300 × 420 mm in four pieces, with overlaps of some 45 and 40 mm, the second one head down.
const LAID: readonly Laid[] = [
  { x: 85, y: 115, turnDeg: -2.5 },
  { x: 220, y: 118, turnDeg: 176.4 },
  { x: 88, y: 315, turnDeg: 6.8 },
  { x: 222, y: 312, turnDeg: -7.1 },
];

/** Red channel of resvg's picture of the drawing, greys between ink and paper. */
function rendered(transform: string, widthMm: number, heightMm: number, noise: number): GreyImage {
  const [width, height] = [Math.round(widthMm * PER_MM), Math.round(heightMm * PER_MM)];
  const svg = `<svg xmlns="http://www.w3.org/2000/svg" width="${width}" height="${height}"><g transform="scale(${PER_MM}) ${transform}">${SHAPES}</g></svg>`;
  const { pixels } = new Resvg(svg, { background: '#ffffff', font: { loadSystemFonts: false } }).render();
  let state = 12_345;
  const values = new Uint8Array(width * height);
  for (let k = 0; k < values.length; k++) {
    state = (Math.imul(state, 1_664_525) + 1_013_904_223) >>> 0;
    const grain = noise * ((state >>> 8) / 2 ** 23 - 1);
    values[k] = Math.round(Math.min(Math.max(INK + INK_TO_PAPER * (pixels[4 * k] / 255) + grain, 0), 255));
  }
  return { width, height, values, white: 255 };
}

it('joins four turned scans of the demo drawing within 0.05 mm and 0.02°, as the whole drawing shows', () => {
  const pieces = LAID.map(({ x, y, turnDeg }, k) => ({
    name: `scan-${k + 1}.png`,
    image: rendered(`translate(${WIDE / 2} ${HIGH / 2}) rotate(${-turnDeg}) translate(${-x} ${-y})`, WIDE, HIGH, 10),
  }));
  const joined = joinScans(pieces, { pixelsPerMm: PER_MM });
  const [first] = joined.placed;
  for (const [k, { motion }] of joined.placed.entries()) {
    const { turnDeg, at } = expectedMotion(LAID[k]);
    const turnError = ((motion.turnDeg - turnDeg + 540) % 360) - 180;
    expect(Math.abs(turnError)).toBeLessThan(0.02);
    const middle = middleOf(motion);
    const origin = first.motion.shiftMm;
    expect(Math.hypot(middle.x - origin.x - at.x, middle.y - origin.y - at.y)).toBeLessThan(0.05);
  }
  expect(joined.doubts).toEqual([]);
  // Side by side, one above the other, and across where all four meet.
  expect(joined.overlaps.length).toBeGreaterThanOrEqual(4);
  for (const { meanMm, largestMm, agreement } of joined.overlaps) {
    // There is no misfit but that of noise of ± 5 %: less than a tenth of a pixel in the mean.
    expect(meanMm).toBeLessThan(0.1 / PER_MM);
    expect(largestMm).toBeLessThan(0.3);
    expect(agreement).toBeGreaterThan(0.98);
  }
  const { x, y } = first.motion.shiftMm;
  const { turnDeg, x: cx, y: cy } = LAID[0];
  const whole = rendered(
    `translate(${x + WIDE / 2} ${y + HIGH / 2}) rotate(${-turnDeg}) translate(${-cx} ${-cy})`,
    joined.image.width / PER_MM,
    joined.image.height / PER_MM,
    0,
  );
  expect([whole.width, whole.height]).toEqual([joined.image.width, joined.image.height]);
  const { mean, largest, edgeBias } = difference(joined.image, whole, (px, py) =>
    covered(px / PER_MM - x, py / PER_MM - y),
  );
  // Noise of ± 10 greys is 5 in the mean, less where pixels are mixed.
  expect(mean).toBeLessThan(5.5);
  // An outline that is off by a pixel differs by the whole step from ink to paper: nowhere by a half of it, noise and tips of leaves included.
  expect(largest).toBeLessThan(INK_TO_PAPER / 2);
  // Outlines stay where they are: neither thinner nor bolder by a hundredth of a pixel.
  expect(Math.abs(edgeBias)).toBeLessThan(INK_TO_PAPER / 100);
});

/** A piece's motion as seen from the first piece, and where its middle comes to lie. */
function expectedMotion({ x, y, turnDeg }: Laid): { turnDeg: number; at: { x: number; y: number } } {
  const [first] = LAID;
  const turn = (-first.turnDeg * Math.PI) / 180;
  const [c, s] = [Math.cos(turn), Math.sin(turn)];
  const [dx, dy] = [x - first.x, y - first.y];
  return { turnDeg: turnDeg - first.turnDeg, at: { x: WIDE / 2 + c * dx - s * dy, y: HIGH / 2 + s * dx + c * dy } };
}

function middleOf({ turnDeg, shiftMm }: { turnDeg: number; shiftMm: { x: number; y: number } }) {
  const turn = (turnDeg * Math.PI) / 180;
  const [c, s] = [Math.cos(turn), Math.sin(turn)];
  return { x: shiftMm.x + (c * WIDE - s * HIGH) / 2, y: shiftMm.y + (s * WIDE + c * HIGH) / 2 };
}

/** The pieces as seen from the first one: middle, cosine and sine of their turn. */
const SEEN = LAID.map((laid) => {
  const { turnDeg, at } = expectedMotion(laid);
  const turn = (turnDeg * Math.PI) / 180;
  return { ...at, c: Math.cos(turn), s: Math.sin(turn) };
});

/** Whether a place (mm, in the first piece's frame) lies well inside of a piece. */
function covered(px: number, py: number): boolean {
  return SEEN.some(({ x, y, c, s }) => {
    const [dx, dy] = [px - x, py - y];
    return Math.abs(c * dx + s * dy) < WIDE / 2 - 1 && Math.abs(c * dy - s * dx) < HIGH / 2 - 1;
  });
}

/** Mean and largest difference of greys, and the mean difference with its sign of pixels on an outline. */
function difference(a: GreyImage, b: GreyImage, counts: (x: number, y: number) => boolean) {
  let [sum, largest, count, signed, onEdge] = [0, 0, 0, 0, 0];
  for (let j = 0; j < a.height; j++) {
    for (let i = 0; i < a.width; i++) {
      const k = j * a.width + i;
      const d = a.values[k] - b.values[k];
      const edge = Math.abs(b.values[k] - (INK + PAPER) / 2) < INK_TO_PAPER / 4;
      // Even places are looked at in every fourth row only.
      if ((!edge && j % 4 !== 0) || !counts(i + 0.5, j + 0.5)) continue;
      largest = Math.max(largest, Math.abs(d));
      sum += Math.abs(d);
      count++;
      if (!edge) continue;
      signed += d;
      onEdge++;
    }
  }
  return { mean: sum / count, largest, edgeBias: signed / onEdge };
}
