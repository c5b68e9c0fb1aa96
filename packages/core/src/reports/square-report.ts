import { drySize, type JudgedSquare, type PaperState, type SquareSheet } from '../job/square.js';
import type { Finding } from '../motif/finding.js';
import { bySeverity } from '../motif/finding.js';
import type { Drift } from '../register/drift-types.js';
import { finerWords, mayDifferWords, mustAgreeWords } from '../register/limit-words.js';
import { squareLimits } from '../register/limits.js';
import type { PunchDistance, PunchOrder } from '../register/punch-order.js';
import { holeName, spanName } from '../register/say.js';
import { ENDS, rectangleDistances, SPANS } from '../register/spans.js';
import type { KnownSquareCheck } from '../register/types.js';
import { mendWords, provesMisjoins, verdictWords } from '../register/verdict-words.js';
import { formatMm, nearestInches } from '../units/format.js';
import { rounded } from '../units/round.js';
import { percentText } from '../units/words.js';

/** A join off by less than this, mm, is said to meet: lengths are told to hundredths. */
const MEETS_MM = 0.005;

/** Which ruler lengths are told for: both, or one of them. */
export type RulerChoice = 'both' | 'mm' | 'inches';

/** What to punch and what to measure, in which order, for a person with a ruler and no measurements yet. */
export function punchReport(sheet: SquareSheet, order: PunchOrder, { ruler }: { readonly ruler: RulerChoice }): string {
  const { targets, movement, punch, names } = sheet;
  const dry = punch === 'dry' ? drySize(targets, movement) : targets;
  const lines = [`${sheet.title}: ${size(targets)} from hole to hole as it prints`];
  if (movement !== null) {
    const moves = `the paper moves by ${percentText(movement.widthPercent, 3)} in width and ${percentText(movement.heightPercent, 3)} in height when it is soaked`;
    lines.push(
      punch === 'dry' ? `${moves}: ${size(dry)} on dry paper` : `${moves}: all lengths are those of the soaked sheet`,
    );
  }
  lines.push(
    '',
    punch === 'dry'
      ? 'Prick the dots through the joined cartoon and check them, or punch them with a ruler, on dry paper:'
      : 'Punch the dots with a ruler, on the soaked sheet lying flat:',
  );
  for (const [k, step] of order.steps.entries()) {
    const name = holeName(step.hole, names);
    const say = (one: PunchDistance): string => `${length(one, ruler)} from ${holeName(one.from, names)}`;
    const ways = step.distances.map(say).join(' and ');
    const proof = step.check === null ? '' : `; then it must be ${say(step.check)}`;
    const how = {
      start: `${name}, where the lead sides meet`,
      along: `${name}, along the lead side, ${ways}`,
      crossing: `${name}, where two arcs cross: ${ways}${proof}`,
    }[step.how];
    lines.push(`  ${k + 1}. ${how}`);
  }
  lines.push(
    ...roundingLines(order, ruler),
    '',
    ...measureLines(sheet, order, ruler),
    '',
    ...limitLines(sheet),
    '',
    ...stepLines(sheet),
  );
  if (sheet.findings.length > 0) lines.push('', ...findingLines(sheet.findings));
  return `${lines.join('\n')}\n`;
}

/** What measurements tell: the verdict, what to do, how the sheet runs on the cloth; then all findings, the gravest first. */
export function squareReport(judged: JudgedSquare, sheet: SquareSheet | null): string {
  const { check, findings, measuredWhen } = judged;
  const on =
    sheet === null || (sheet.movement === null && check.sizes === 'planned') ? '' : measuredWords(measuredWhen);
  const of = sheet === null ? 'sheet' : `${sheet.title}, ${size(check.targets ?? sheet.targets)}`;
  const lines = [`${of}${on}: ${verdictWords(check)}`, `to do: ${mendWords(check)}`];
  if (judged.drift !== null) lines.push(steppedWords(judged.check, judged.drift));
  lines.push('', ...findingLines(findings));
  return `${lines.join('\n')}\n`;
}

function measuredWords(when: PaperState | null): string {
  return `, measured ${when === 'wet' ? 'soaked' : 'dry'}`;
}

/** What stepping does: of what is not proved only what it would be. */
function steppedWords(check: KnownSquareCheck, { down, across, last, worst, within, between }: Drift): string {
  const stepped = `stepped dot on dot, ${down} down and ${across} across`;
  const worstMm = worst?.mm ?? 0;
  const off = `off by ${formatMm(last?.mm ?? 0)} at the last placement and ${formatMm(worstMm)} at worst`;
  if (provesMisjoins(check)) return `${stepped}: joins are ${off}`;
  if (check.effect === 'leans' && worstMm < MEETS_MM) {
    const sideways = Math.max(...[within, between].map((line) => Math.abs(line?.over.sidewaysMm ?? 0)));
    return `${stepped}: every join meets, and the pattern leans with the holes, by ${formatMm(sideways, 1)} at the end of a line`;
  }
  if (worstMm < MEETS_MM) return `${stepped}: every join meets`;
  return `${stepped}: if the readings were exact, joins would be ${off}; within their error all may meet`;
}

function roundingLines(
  { rulerParts, metricStepMm, metricEffect, inchEffect }: PunchOrder,
  ruler: RulerChoice,
): string[] {
  const say = (to: string, effect: PunchOrder['metricEffect']): string =>
    `  rounded to ${to} all together: ${rounded(effect.outOfSquareDeg, 3)}° out of square, ${formatMm(effect.farSideMm)} over the far side, opposite sides ${formatMm(effect.sidesMm)} apart`;
  return [
    ...(ruler === 'inches' ? [] : [say(formatMm(metricStepMm), metricEffect)]),
    ...(ruler === 'mm' ? [] : [say(`1/${rulerParts} in`, inchEffect)]),
  ];
}

/** The six distances and those of extra dots, as the command takes them back. */
function measureLines(sheet: SquareSheet, order: PunchOrder, ruler: RulerChoice): string[] {
  const { targets, movement, punch, names } = sheet;
  const { widthMm, heightMm } = punch === 'dry' ? drySize(targets, movement) : targets;
  const six = rectangleDistances(widthMm, heightMm);
  const lines = SPANS.map((span) => {
    const [from, to] = ENDS[span];
    return `  --${span.padEnd(8)} ${spanName(span)}, ${names[from]}–${names[to]}: ${plainLength(six[span], order, ruler)}`;
  });
  const corner = (hole: string): string => names[hole as keyof typeof names] ?? hole;
  for (const step of order.steps) {
    if (step.hole in names) continue;
    for (const one of [...step.distances, ...(step.check === null ? [] : [step.check])]) {
      const pair = `${corner(one.from)}-${step.hole}`;
      lines.push(`  --extra ${pair}=…  dot ${step.hole}: ${plainLength(one.mm, order, ruler)}`);
    }
  }
  return ['Then measure all of these, centre to centre, and give what you read:', ...lines];
}

/** What may differ and what must not, in which state of the paper. */
function limitLines({ targets, movement, punch, soaked, stepping }: SquareSheet): string[] {
  const limits = squareLimits(targets, stepping);
  const finer = finerWords(limits);
  const states = soaked && punch === 'dry' ? 'Dry and soaked alike it must agree' : 'It must agree';
  const wet = rectangleDistances(targets.widthMm, targets.heightMm);
  const soakedSizes =
    movement === null
      ? 'Soaked, its sizes are not known before they are measured.'
      : `Soaked it should be ${size(targets)}, diagonals ${formatMm(wet.falling, 1)}.`;
  return [
    `${states}: ${mustAgreeWords(limits)}.`,
    ...(soaked && punch === 'dry' ? [`  ${soakedSizes} ${mayDifferWords(movement !== null)}`] : []),
    ...(finer === null ? [] : [`  ${finer}`]),
  ];
}

/** Which dots land on which in every step. */
function stepLines({ steps }: SquareSheet): string[] {
  return [
    'Stepping, two pairs of dots hold the sheet in place and in direction:',
    ...steps.map(({ to, pairs }) => {
      const way = to === 'right' ? 'to the right' : 'down';
      return `  ${way}: ${pairs.map((pair) => `${pair.from} comes to where ${pair.to} was`).join(', ')}`;
    }),
  ];
}

function length({ metric, inches }: PunchDistance, ruler: RulerChoice): string {
  const mm = `${formatMm(metric.mm)}${off(metric.errorMm)}`;
  const inch = `${inches.text} in${off(inches.errorMm)}`;
  return choose(mm, inch, ruler);
}

function plainLength(mm: number, { rulerParts }: PunchOrder, ruler: RulerChoice): string {
  const { text, errorMm } = nearestInches(mm, rulerParts);
  return choose(formatMm(mm, 1), `${text} in${off(errorMm)}`, ruler);
}

function choose(mm: string, inches: string, ruler: RulerChoice): string {
  if (ruler === 'both') return `${mm} or ${inches}`;
  return ruler === 'mm' ? mm : inches;
}

/** What rounding loses, where it is worth a word. */
function off(errorMm: number): string {
  const size = Math.abs(errorMm).toFixed(2);
  return size === '0.00' ? '' : ` (${errorMm > 0 ? '+' : '−'}${size} mm)`;
}

function findingLines(findings: readonly Finding[]): string[] {
  if (findings.length === 0) return ['No findings.'];
  return bySeverity(findings).map(({ severity, message }) => `  ${severity}  ${message}`);
}

function size({ widthMm, heightMm }: { readonly widthMm: number; readonly heightMm: number }): string {
  return `${formatMm(widthMm, 1).replace(' mm', '')} × ${formatMm(heightMm, 1)}`;
}
