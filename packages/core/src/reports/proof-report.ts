import { reportFindings } from '../findings/proof-report.js';
import type { Box, Point } from '../geometry/types.js';
import type { ProofSheet } from '../job/proof-sheet.js';
import { bySeverity } from '../motif/finding.js';
import type { LeadEdge, PrintDifference, ProofOffset, ProofReport, SheetJoin } from '../proof/types.js';
import { spanName } from '../register/say.js';
import { rectangleDistances, SPANS } from '../register/spans.js';
import { verdictWords } from '../register/verdict-words.js';
import { listText } from '../units/words.js';
import { textTable } from './text-table.js';

/** Edges and ends nearer to the plan than a knife is good for are counted, not listed, mm. */
const TOLD_MM = 0.2;

/** Rows of a table that a person still reads. */
const ROWS_MAX = 20;

/** What a printed proof tells, for the terminal: how it was laid, squareness, lead edges, differences, and what to do next. */
export function proofReport(
  report: ProofReport,
  proof: ProofSheet,
  { next }: { readonly next: readonly string[] },
): string {
  const { laid, distances } = report;
  const { title, sheet } = proof;
  const name = sheet.count > 1 ? `${title}, stencil ${sheet.index} of ${sheet.count}` : title;
  const lines = [`${name}: the proof is laid ${laidWords(report)}`];
  lines.push(`${Math.round(100 * laid.agreement)} % of print and plan agree`);
  if (distances !== null && report.square !== null) {
    const { targets } = report.square;
    const planned = targets === null ? null : rectangleDistances(targets.widthMm, targets.heightMm);
    const rows = SPANS.map((span) => [
      spanName(span),
      distances[span].toFixed(1),
      planned === null ? '' : planned[span].toFixed(1),
      planned === null ? '' : signed(distances[span] - planned[span], 1),
    ]);
    const verdict = verdictWords(report.square);
    lines.push(
      '',
      `from dot to dot as printed, mm: ${verdict}`,
      ...textTable(['', 'printed', 'planned', 'differs'], rows, [1, 2, 3]),
    );
  }
  const findings = bySeverity(reportFindings(report));
  if (findings.length > 0) lines.push('', ...findings.map(({ severity, message }) => `  ${severity}  ${message}`));
  lines.push('', ...edgeLines(report), '', ...endLines(report, proof), '', ...differenceLines(report, sheet.field));
  if (next.length > 0) lines.push('', ...next);
  return `${lines.join('\n')}\n`;
}

/** How a proof was laid, as the end of a sentence: "by its dots A, B, D and E, 300 dpi, …". */
export function laidWords({ laid }: Pick<ProofReport, 'laid'>): string {
  const names = listText(laid.dots.map(({ name }) => name));
  const off = Math.max(0, ...laid.dots.map(({ offMm }) => offMm));
  const by = laid.by === 'points' ? `by the places given for its dots ${names}` : `by its dots ${names}`;
  const scale = laid.scale === null ? 'as a photograph' : laid.scale.words;
  const how = {
    rigid: 'turned and shifted',
    stretched: 'stretched with its paper',
    perspective: 'scale and slant taken away',
  }[laid.frame];
  // Four dots carry a photograph without any room to differ.
  const fit =
    laid.frame === 'perspective' && laid.dots.length === 4
      ? ''
      : `; dots lie up to ${off.toFixed(2)} mm from their places`;
  return `${by}, ${scale}, ${how}${fit}`;
}

function edgeLines({ leadEdges }: ProofReport): string[] {
  if (leadEdges.length === 0) return ['lead edges: the print shows none'];
  const sorted = leadEdges.toSorted((a, b) => Math.abs(b.worstMm) - Math.abs(a.worstMm));
  const told = sorted.filter(({ worstMm }) => Math.abs(worstMm) >= TOLD_MM).slice(0, ROWS_MAX);
  const rest = sorted.slice(told.length);
  const head = `lead edges, mm across the outline (above zero the opening is larger than planned): ${leadEdges.length}`;
  const tail = restLine(rest.length, rest[0] === undefined ? 0 : Math.abs(rest[0].worstMm));
  return [
    head,
    ...(told.length === 0
      ? []
      : textTable(['opening', 'side', 'mean', 'worst', 'joins'], told.map(edgeRow), [0, 2, 3])),
    ...tail,
  ];
}

function edgeRow({ number, sides, meanMm, worstMm, joins }: LeadEdge): string[] {
  return [
    String(number),
    sides.join(', '),
    signed(meanMm),
    signed(worstMm),
    joins.length === 0 ? '-' : joins.join(' '),
  ];
}

function endLines({ offsets, printedOffsets }: ProofReport, { ends }: ProofSheet): string[] {
  if (ends.joins.length + ends.firstCutEnds.length === 0) return ['ends: the sheet has no joins and no stops'];
  const sorted = offsets.toSorted((a, b) => Math.abs(b.offsetMm) - Math.abs(a.offsetMm));
  const told = sorted.filter(({ offsetMm }) => Math.abs(offsetMm) >= TOLD_MM).slice(0, ROWS_MAX);
  const rest = sorted.slice(told.length);
  const joins = new Map(ends.joins.map((join) => [join.name, join]));
  const printed = new Map(printedOffsets.map(({ name, offsetMm }) => [name, offsetMm]));
  const row = ({ name, offsetMm, turnDeg }: ProofOffset): string[] => {
    const join = joins.get(name);
    return [
      name,
      join === undefined ? 'stop' : joinWords(join),
      signed(offsetMm),
      signed(printed.get(name) ?? offsetMm),
      join === undefined ? '' : signed(turnDeg, 1),
    ];
  };
  const head = `joins, mm along the seam or the stop (above zero down or to the right): ${offsets.length}`;
  return [
    head,
    ...(told.length === 0 ? [] : textTable(['', '', 'cut', 'printed', 'turned°'], told.map(row), [2, 3, 4])),
    ...restLine(rest.length, rest[0] === undefined ? 0 : Math.abs(rest[0].offsetMm)),
  ];
}

/** Which edge of which opening comes to a join. */
function joinWords({ seam, edge, partner }: SheetJoin): string {
  const side = seam === 'right' ? (edge === 'begins' ? 'upper' : 'lower') : edge === 'begins' ? 'left' : 'right';
  return `${side} edge of ${partner ?? '-'} at the ${seam === 'right' ? 'left' : 'top'}`;
}

function restLine(count: number, mostMm: number): string[] {
  if (count === 0) return [];
  return [
    `  ${count === 1 ? 'one lies' : `${count} lie`} within ${Math.max(0.01, Math.ceil(mostMm * 100 - 1e-6) / 100).toFixed(2)} mm of the plan`,
  ];
}

function differenceLines({ differences }: ProofReport, field: Box): string[] {
  if (differences.length === 0) return ['print and plan hold the same openings'];
  const told = differences.slice(0, ROWS_MAX);
  const row = ({ kind, number, areaMm2, deepMm, at }: PrintDifference): string[] => [
    kind === 'missing' ? `missing of ${number}` : `dark beside ${number}`,
    areaMm2.toFixed(1),
    deepMm.toFixed(1),
    placeText(at, field),
  ];
  const more = differences.length - told.length;
  return [
    `print and plan differ (which may be meant): ${differences.length}`,
    ...textTable(['', 'mm²', 'mm deep', 'from the left and the top of the field'], told.map(row), [1, 2]),
    ...(more === 0 ? [] : [`  and ${more} smaller ${more === 1 ? 'one' : 'ones'}`]),
  ];
}

function placeText({ x, y }: Point, field: Box): string {
  return `${(x - field.x0).toFixed(1)}, ${(y - field.y0).toFixed(1)}`;
}

/** A length with its sign. */
export function signed(value: number, digits = 2): string {
  const text = Math.abs(value).toFixed(digits);
  return Number(text) === 0 ? text : `${value < 0 ? '−' : '+'}${text}`;
}
