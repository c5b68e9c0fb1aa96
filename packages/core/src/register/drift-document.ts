import { groundLineRestarts } from './drift-restarts.js';
import type { Drift, DriftJoin, LineDrift } from './drift-types.js';

/** A join of the document: columns and rows are counted from 1, as a person counts them. */
export interface JoinDocument {
  readonly column: number;
  readonly row: number;
  readonly withColumn: number;
  readonly withRow: number;
  readonly mm: number;
}

/** A line of the document: what one step does, and all of them. */
export interface LineDocument {
  readonly steps: number;
  readonly leanDeg: number;
  readonly leanMmPerM: number;
  readonly turnDeg: number;
  readonly radiusMm: number | null;
  readonly growthMm: number;
  readonly secondDotMm: number;
  readonly over: {
    readonly growthMm: number;
    readonly sidewaysMm: number;
    readonly leanDeg: number;
    readonly leanMmPerM: number;
    readonly turnDeg: number;
  };
}

/** What `square --json` says of drift. Lengths in mm. */
export interface DriftDocument {
  readonly lines: 'columns' | 'rows';
  readonly down: number;
  readonly across: number;
  readonly toleranceMm: number;
  /** Along a column (a row in `rows`), and from one to the next. */
  readonly alongLine: LineDocument | null;
  readonly lineToLine: LineDocument | null;
  readonly firstOver: JoinDocument | null;
  readonly last: JoinDocument | null;
  readonly worst: JoinDocument | null;
  readonly freshStart: {
    readonly placementsEvery: number | null;
    readonly linesEvery: number | null;
    readonly worstJoinMm: number;
    readonly within: boolean;
  };
  /** Dots between the corners that were not measured. */
  readonly assumedDots: readonly string[];
}

/** Drift as plain data; numbers are not rounded. */
export function driftDocument(drift: Drift): DriftDocument {
  const { model, down, across, toleranceMm, within, between, firstOver, last, worst } = drift;
  const { placementsEvery, linesEvery, worstJoinMm, within: freshWithin } = groundLineRestarts(drift);
  return {
    lines: model.lines,
    down,
    across,
    toleranceMm,
    alongLine: lineDocument(within),
    lineToLine: lineDocument(between),
    firstOver: joinDocument(firstOver),
    last: joinDocument(last),
    worst: joinDocument(worst),
    freshStart: { placementsEvery, linesEvery, worstJoinMm, within: freshWithin },
    assumedDots: model.dots.filter(({ known }) => known === 'interpolated').map(({ name }) => name),
  };
}

function lineDocument(line: LineDrift | null): LineDocument | null {
  if (line === null) return null;
  const { leanDeg, leanMmPerM, turnDeg, radiusMm, growthMm, secondDotMm } = line;
  const { steps, ...over } = line.over;
  return { steps, leanDeg, leanMmPerM, turnDeg, radiusMm, growthMm, secondDotMm, over };
}

function joinDocument(join: DriftJoin | null): JoinDocument | null {
  if (join === null) return null;
  return {
    column: join.column + 1,
    row: join.row + 1,
    withColumn: join.with.column + 1,
    withRow: join.with.row + 1,
    mm: join.mm,
  };
}
