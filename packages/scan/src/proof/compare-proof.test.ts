import { circleContour, type GreyImage, type Point } from '@okuri/core';
import { reportFindings } from '@okuri/core/inside';
import { describe, expect, it } from 'vitest';
import { SAMPLE_ENDS, sampleProofSheet } from '../../../core/src/proof/sample-proof-sheet.test-help.js';
import { scaleFromResolution } from '../scale/picture-scale.js';
import { compareProof } from './compare-proof.js';
import { type LayProofOptions, layProof } from './lay-proof.js';
import { pictureOfPrint, type SamplePrint, scanFrame } from './proof-picture.test-help.js';

const SHEET = sampleProofSheet();
const PIXELS_PER_MM = 8;
const SCALE = scaleFromResolution({ across: PIXELS_PER_MM, down: PIXELS_PER_MM, unit: 'mm' }, 'file');

function scan(print: SamplePrint): GreyImage {
  return pictureOfPrint(SHEET, print, scanFrame(SHEET, { pixelsPerMm: PIXELS_PER_MM, turnDeg: 2.2 }));
}

function compared(image: GreyImage, options: LayProofOptions = { scale: SCALE }) {
  const laid = layProof(image, SHEET, options);
  return compareProof(image, SHEET, SAMPLE_ENDS, { laid, light: options.light === true });
}

const NAMES = [...SAMPLE_ENDS.joins, ...SAMPLE_ENDS.firstCutEnds].map(({ name }) => name);
/** A knife is good to 0.2 mm; a pixel is 0.125 mm. */
const CLOSE_MM = 0.03;

describe('a print as planned', () => {
  const report = compared(scan({}));

  it('has all edges and ends at their places', () => {
    expect(report.offsets.map(({ name }) => name)).toEqual(NAMES);
    for (const { offsetMm, turnDeg } of report.offsets) {
      expect(Math.abs(offsetMm)).toBeLessThan(CLOSE_MM);
      expect(Math.abs(turnDeg)).toBeLessThan(1);
    }
    expect(Math.abs(report.spreadMm)).toBeLessThan(0.01);
    expect(report.leadEdges.map(({ number, sides, joins }) => [number, sides.join(), joins.join()])).toEqual([
      [1, 'left', 'J1,J2'],
      [3, 'top', 'J3,J4'],
      [8, 'top', ''],
      [9, 'top', ''],
      [13, 'left', ''],
    ]);
    for (const { worstMm, shownShare } of report.leadEdges) {
      expect(Math.abs(worstMm)).toBeLessThan(0.06);
      expect(shownShare).toBe(1);
    }
    expect(report).toMatchObject({ unmeasured: [], differences: [], heldShare: 0 });
  });

  it('has square dots, at their distances', () => {
    expect(report.square?.square).toBe(true);
    expect(report.distances?.top).toBeCloseTo(120, 1);
    expect(report.distances?.falling).toBeCloseTo(150, 1);
    expect(report.offsets[0].place).toEqual({ x: 120, y: 20 });
  });
});

describe('a print that was cut beside the plan', () => {
  // Edges at the left lie 0.5 mm lower, those at the top 0.3 mm more to the left; all the rest is where it was planned.
  const near = (mm: number): number => Math.max(0, Math.min(1, (22 - mm) / 6));
  const cut = ({ x, y }: Point): Point => ({
    x: x - 0.3 * near(y - SHEET.field.y0),
    y: y + 0.5 * near(x - SHEET.field.x0),
  });
  const TRUE = { J1: 0.5, J2: 0.5, J3: -0.3, J4: -0.3, J5: 0, J6: 0 };

  it.each([
    ['cut alone', {}],
    ['with paste that spread', { spreadMm: 0.15 }],
    ['with paste that drew back', { spreadMm: -0.1 }],
  ])('tells how the knife went: %s', (_how, { spreadMm = 0 }: { spreadMm?: number }) => {
    const report = compared(scan({ cut, spreadMm }));
    expect(Math.abs(report.spreadMm - spreadMm)).toBeLessThan(0.015);
    for (const { name, offsetMm } of report.offsets) {
      expect(Math.abs(offsetMm - TRUE[name as keyof typeof TRUE])).toBeLessThan(0.05);
    }
    // As printed: the band's upper edge lies higher by the spread, its lower one lower (both nearly level).
    const printed = new Map(report.printedOffsets.map((one) => [one.name, one.offsetMm]));
    expect(printed.get('J1')).toBeCloseTo(0.5 - spreadMm, 1);
    expect(printed.get('J2')).toBeCloseTo(0.5 + spreadMm, 1);
    expect(report.differences).toEqual([]);
    const codes = reportFindings(report).map(({ code }) => code);
    expect(codes.includes('proof-spread')).toBe(spreadMm !== 0);
  });

  it('tells how far an edge is turned', () => {
    // About the place where the upper edge of 1 comes to the seam, 3° clockwise.
    const [o, tan] = [SAMPLE_ENDS.joins[0].lead, Math.tan((3 * Math.PI) / 180)];
    const report = compared(scan({ cut: (p) => (p.x < 25 ? { x: p.x, y: p.y + tan * (p.x - o.x) } : p) }));
    const x1 = report.offsets.find(({ name }) => name === 'J1');
    expect(x1?.offsetMm).toBeCloseTo(0, 1);
    expect(Math.abs((x1?.turnDeg ?? 0) - 3)).toBeLessThan(1);
  });
});

describe('what print and plan do not share', () => {
  it('is told: an opening that did not print, paste beside the plan', () => {
    const blot = { x: SHEET.field.x0 + 52, y: SHEET.field.y0 + 55 };
    const report = compared(scan({ leaveOut: [10], blots: [circleContour(blot, 2)] }));
    expect(report.differences).toHaveLength(2);
    const [missing, extra] = report.differences;
    // Opening 10 is a disc of 5 mm radius.
    expect(missing).toMatchObject({ kind: 'missing', number: 10 });
    expect(Math.abs(missing.areaMm2 - Math.PI * 25)).toBeLessThan(1.5);
    // Areas are compared in cells of 0.2 mm: a depth is known to about one.
    expect(Math.abs(missing.deepMm - 5)).toBeLessThan(0.3);
    expect(extra.kind).toBe('extra');
    expect(Math.abs(extra.areaMm2 - Math.PI * 4)).toBeLessThan(1);
    expect(Math.hypot(extra.at.x - blot.x, extra.at.y - blot.y)).toBeLessThan(2.1);
    expect(report.unmeasured).toEqual([]);
  });

  it('leaves ends unmeasured whose opening is not there', () => {
    const report = compared(scan({ leaveOut: [1] }));
    expect(report.unmeasured).toEqual(['J1', 'J2']);
    expect(report.leadEdges.map(({ number }) => number)).not.toContain(1);
    expect(reportFindings(report).find(({ code }) => code === 'proof-unmeasured')?.message).toContain('At J1, J2 the');
  });

  it('tells a finished sheet from a proof', () => {
    const blots = SHEET.openings.flatMap(({ secondCut }) => secondCut);
    const report = compared(scan({ blots }));
    expect(report.heldShare).toBeGreaterThan(0.95);
    expect(report.differences).toEqual([]);
    expect(reportFindings(report).map(({ code }) => code)).toContain('proof-held-printed');
  });
});

it('proves a sheet not square by its printed dots', () => {
  const dots = SHEET.dots.map((dot) => (dot.name === 'C' ? { ...dot, at: { x: dot.at.x + 3, y: dot.at.y } } : dot));
  const report = compared(scan({ dots }));
  expect(report.laid.frame).toBe('stretched');
  expect(report.distances?.bottom).toBeCloseTo(123, 1);
  expect(report.square?.square).toBe(false);
  expect(reportFindings(report).map(({ code }) => code)).toContain('proof-paper-moved');
});

it('knows no distances in a photograph', () => {
  const report = compared(scan({}), {});
  expect(report).toMatchObject({ distances: null, square: null });
  for (const { offsetMm } of report.offsets) expect(Math.abs(offsetMm)).toBeLessThan(CLOSE_MM);
  expect(reportFindings(report).map(({ code }) => code)).toContain('proof-photograph');
});

it('reads light prints on dark cloth alike', () => {
  const image = scan({});
  const report = compared({ ...image, values: image.values.map((v) => 255 - v) }, { scale: SCALE, light: true });
  for (const { offsetMm } of report.offsets) expect(Math.abs(offsetMm)).toBeLessThan(CLOSE_MM);
  expect(report.differences).toEqual([]);
});
