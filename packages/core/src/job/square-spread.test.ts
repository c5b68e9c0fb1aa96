import { expect, it } from 'vitest';
import { ran } from './leaf-job.test-help.js';
import { squareSheet } from './square.js';
import { spreadReport, squareSpread } from './square-spread.js';

it('keeps punching and laying apart, and grows as each of them does', () => {
  const sheet = squareSheet(ran({}));
  const errors = { punchErrorMm: 0.2, layingErrorMm: 0.2 };
  const [few, many] = [20, 80].map((down) => squareSpread(sheet, errors, down + 1).spread.within);
  // Four times the steps: N and N^2 for punching, the roots of N and N^3 for laying.
  expect((many?.punching.alongMm ?? 0) / (few?.punching.alongMm ?? 1)).toBeCloseTo(4, 6);
  expect((many?.laying.alongMm ?? 0) / (few?.laying.alongMm ?? 1)).toBeCloseTo(2, 6);
  expect((many?.punching.sidewaysMm ?? 0) / (few?.punching.sidewaysMm ?? 1)).toBeGreaterThan(14);
  expect((many?.laying.sidewaysMm ?? 0) / (few?.laying.sidewaysMm ?? 1)).toBeGreaterThan(7);
  const none = squareSpread(sheet, { punchErrorMm: 0, layingErrorMm: 0 });
  expect(none.spread.last.punching.xMm + none.spread.last.laying.yMm).toBe(0);
  expect(spreadReport(squareSpread(sheet, errors))).toMatch(/punched off by 0\.20 mm, once for all/);
});

it('refuses errors below zero', () => {
  expect(() => squareSpread(squareSheet(ran({})), { punchErrorMm: -1, layingErrorMm: 0 })).toThrow(/punch/i);
});
