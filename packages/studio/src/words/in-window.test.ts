import { type Motif, motifFromTrace, type ProofReport, reportFindings } from '@okuri/core';
import { expect, it } from 'vitest';
import { inWindow } from './in-window';

/** Words of a command line. */
const OPTION = /--[a-z]|okuri /;

it('leaves no options of the command in what the engine says of a scan or a proof', () => {
  const report = {
    laid: { scale: null, frame: 'stretched', agreement: 0.8, missingDots: ['B'], dots: [] },
    spreadMm: 0.1,
    heldShare: 0.5,
    unmeasured: ['X1'],
    square: null,
  } as unknown as ProofReport;
  const findings = reportFindings(report).map(({ message }) => message);
  expect(findings.length).toBe(7);
  expect(findings.filter((message) => OPTION.test(message)).length).toBe(2);
  expect(findings.map(inWindow).filter((message) => OPTION.test(message) || !/[.]$/.test(message))).toEqual([]);
  expect(() => emptyTrace()).toThrow(OPTION);
  try {
    emptyTrace();
  } catch (error) {
    expect(inWindow((error as Error).message)).not.toMatch(OPTION);
  }
  expect(inWindow('or point out the four corner dots with --points.')).toBe(
    'or point out the four corner dots on the picture.',
  );
});

function emptyTrace(): Motif {
  const none = { count: 0, areaMm2: 0 };
  const frame = { x0: 0, y0: 0, x1: 100, y1: 100 };
  return motifFromTrace(
    { contours: [], nodes: 0, specks: none, pinholes: none, level: 0.5, noise: 0, paper: 1, ink: 0 },
    {
      frame,
      seen: [],
      region: null,
      dots: [],
      scale: { toMm: [1, 0, 0, 0, 1, 0, 0, 0, 1], from: 'file', pixelsPerMm: 10, perspective: false, words: '' },
    },
  );
}
