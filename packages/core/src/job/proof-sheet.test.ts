import { describe, expect, it } from 'vitest';
import { SAMPLE_ENDS, sampleProofSheet } from '../proof/sample-proof-sheet.test-help.js';
import type { LaidProof, ProofOffset, ProofReport } from '../proof/types.js';
import { proofDocument } from '../reports/proof-document.js';
import { proofReport } from '../reports/proof-report.js';
import { type ProofSheet, parseOffsets, withOffsets } from './proof-sheet.js';

describe('typed offsets', () => {
  it('are read with their sign and unit', () => {
    expect(parseOffsets(['X3=0.4mm', ' y1 = -1/64 in', 'X1=none', 'X2=−0.2mm'], SAMPLE_ENDS)).toEqual([
      { name: 'J3', offsetMm: 0.4 },
      { name: 'J5', offsetMm: -25.4 / 64 },
      { name: 'J1', offsetMm: null },
      { name: 'J2', offsetMm: -0.2 },
    ]);
  });

  it.each([
    ['J3', /write the name of an end and how far it is off/],
    ['X3=far', /^--offset J3: /],
    ['X9=1mm', 'There is no X9 on this sheet, which has J1 to J6: okuri proof JOB lists them.'],
  ])('are refused when they are %s', (text, sentence) => {
    expect(() => parseOffsets([text], SAMPLE_ENDS)).toThrow(sentence);
  });

  it('are refused twice for one end, and for edges that no proof shows', () => {
    expect(() => parseOffsets(['J1=1mm', 'j1=2mm'], SAMPLE_ENDS)).toThrow('J1 is given twice: leave one of them out.');
    const [first, ...others] = SAMPLE_ENDS.joins;
    const ends = { ...SAMPLE_ENDS, joins: [{ ...first, leadCut: 'second' } as const, ...others] };
    expect(() => parseOffsets(['J1=1mm'], ends)).toThrow(/waits in the held margin itself/);
  });
});

describe('offsets in a job', () => {
  const scanned = (name: string, offsetMm: number): ProofOffset => ({
    name,
    offsetMm,
    turnDeg: 1,
    place: { x: 0, y: 0 },
  });
  const typed = (name: string, offsetMm: number): ProofOffset => ({ name, offsetMm, turnDeg: 0, place: null });
  const kept = [scanned('J1', 0.1), typed('J2', 0.2), scanned('J3', 0.3)];
  const at = { key: '#000000', ends: SAMPLE_ENDS, kept };

  it('of a new scan take the place of older ones, but leave typed ones where it shows nothing', () => {
    const proof = withOffsets({ other: [], '#000000': kept }, at, { measured: [scanned('J4', 0.4)], typed: [] });
    expect(proof).toEqual({ other: [], '#000000': [typed('J2', 0.2), scanned('J4', 0.4)] });
  });

  it('typed now count most, in the order of the ends', () => {
    const hand = [
      { name: 'J5', offsetMm: -0.5 },
      { name: 'J1', offsetMm: 1 },
      { name: 'J3', offsetMm: null },
    ];
    expect(withOffsets({}, at, { measured: null, typed: hand })).toEqual({
      '#000000': [typed('J1', 1), typed('J2', 0.2), typed('J5', -0.5)],
    });
    const all = kept.map(({ name }) => ({ name, offsetMm: null }));
    expect(withOffsets({ '#000000': kept }, at, { measured: null, typed: all })).toEqual({});
  });
});

describe('a report', () => {
  const sheet = sampleProofSheet();
  const laid: LaidProof = {
    toSheet: [1, 0, 0, 0, 1, 0, 0, 0, 1],
    by: 'dots',
    frame: 'perspective',
    scale: null,
    dots: sheet.dots.map(({ name, at }) => ({ name, at, offMm: 0 })),
    missingDots: [],
    pixelsPerMm: 8,
    agreement: 0.987,
  };
  const report: ProofReport = {
    laid,
    spreadMm: 0.15,
    leadEdges: [
      {
        number: 1,
        sides: ['left'],
        meanMm: 0.1,
        worstMm: -0.42,
        worstAt: { x: 20, y: 40 },
        shownShare: 1,
        joins: ['J1', 'J2'],
      },
      { number: 3, sides: ['top'], meanMm: 0, worstMm: 0.05, worstAt: { x: 60, y: 20 }, shownShare: 1, joins: [] },
    ],
    offsets: [
      { name: 'J1', offsetMm: 0.5, turnDeg: -2, place: { x: 120, y: 20 } },
      { name: 'J5', offsetMm: 0.02, turnDeg: 0, place: { x: 105, y: 21 } },
    ],
    printedOffsets: [
      { name: 'J1', offsetMm: 0.35 },
      { name: 'J5', offsetMm: -0.13 },
    ],
    unmeasured: ['J2'],
    differences: [
      {
        kind: 'missing',
        number: 10,
        areaMm2: 78.5,
        deepMm: 5,
        at: { x: 110, y: 65 },
        box: { x0: 105, y0: 60, x1: 115, y1: 70 },
      },
    ],
    heldShare: 0,
    distances: null,
    square: null,
    printed: [],
  };
  const proof: ProofSheet = {
    title: 'Reed screen',
    sheet,
    key: '#000000',
    ends: SAMPLE_ENDS,
    kept: [],
    map: { placements: [], joins: [], pencil: [], meetings: [], further: null },
  };

  it('says how the proof was laid, what lies off, and what differs, without judging', () => {
    const text = proofReport(report, proof, { next: ['Then do this.'] });
    expect(text.split('\n')[0]).toBe(
      'Reed screen: the proof is laid by its dots A, B, C and D, as a photograph, scale and slant taken away',
    );
    expect(text).toContain('99 % of print and plan agree');
    expect(text).toContain('0.15 mm outside of the plan');
    expect(text).toMatch(/ 1 {2}left {2}\+0\.10 {2}−0\.42 {2}J1 J2\n {2}one lies within 0\.05 mm of the plan/);
    expect(text).toMatch(/J1 {2}upper edge of 1 at the left {2}\+0\.50 +\+0\.35 +−2\.0\n {2}one lies within 0\.02 mm/);
    expect(text).toMatch(/missing of 10 +78\.5 +5\.0 {2}95\.0, 50\.0/);
    expect(text).not.toMatch(/fault|wrong/);
    expect(text.endsWith('Then do this.\n')).toBe(true);
  });

  it('is plain data as a document, with places on the field', () => {
    const document = proofDocument(report, proof);
    expect(JSON.parse(JSON.stringify(document))).toEqual(document);
    expect(document).toMatchObject({ distances: null, square: null, unmeasured: ['J2'], spreadMm: 0.15 });
    expect(document.offsets[0]).toEqual({
      name: 'J1',
      offsetMm: 0.5,
      printedMm: 0.35,
      turnDeg: -2,
      placeMm: { x: 120, y: 20 },
    });
    expect(document.differences[0].atMm).toEqual({ x: 95, y: 50 });
    expect(document.findings.map(({ code }) => code)).toEqual(['proof-photograph', 'proof-spread', 'proof-unmeasured']);
  });
});
