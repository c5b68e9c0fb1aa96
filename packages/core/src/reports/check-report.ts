import { type CheckedJob, judgedSheets } from '../job/result.js';
import { repeatName } from '../job-file/repeat-fields.js';
import { countStates } from '../joins/states.js';
import type { Finding } from '../motif/finding.js';
import { bySeverity, countFindings, SEVERITIES } from '../motif/finding.js';
import type { FrameSource, Motif } from '../motif/types.js';
import { fractionText } from '../repeat/fraction.js';
import { fittingPaper } from '../stencil/named-paper.js';
import { findPaper } from '../units/paper-sizes.js';
import { rounded } from '../units/round.js';
import { counted } from '../units/words.js';
import { paperLines } from './paper-report.js';

const FROM: Record<FrameSource, string> = {
  shape: 'from the shape named “repeat”',
  rectangle: 'from the rectangle around the artwork',
  page: 'from the page',
  artwork: 'from the extent of the artwork',
};

const MEANING = {
  stop: "can't be printed",
  fix: 'will show or tear',
  look: 'only a person can tell',
  note: 'for information',
} as const;

/** What was read, in a few words: `unit 250 × 310 mm, from the page`. */
export function readLine(motif: Pick<Motif, 'frame'>): string {
  const { widthMm, heightMm, from } = motif.frame;
  return `unit ${rounded(widthMm, 2)} × ${rounded(heightMm, 2)} mm, ${FROM[from]}`;
}

/**
 * What a person reads first: what was read, the repeat, what is cut in words, the joins and the sheet in figures, then the
 * findings, worst first, each with its place on the unit.
 */
export function checkReport(result: CheckedJob): string {
  const { motif, sheets, findings, joins } = result;
  const lines = [readLine(motif), repeatLine(result), ...result.statements];
  const states = countStates(joins);
  const bends = states.bends > 0 ? ` ${states.bends} ${states.bends === 1 ? 'bends' : 'bend'} there,` : '';
  const winding = result.openings.filter(({ rank }) => rank > 0).length;
  lines.push(
    `${counted(result.openings.length, 'opening')}${winding > 0 ? `, ${winding} of them running on over the cloth` : ''}; ` +
      `${counted(joins.length, 'join')}: ${states.meets} meet,${bends} ${states.off} off, ${states.open} open`,
  );
  const sheet = sheets[0];
  if (sheet !== undefined) {
    const fits = fittingPaper(sheet.widthMm, sheet.heightMm, findPaper(result.job.pages.paper));
    const paper = fits === null ? 'larger than any named paper' : `fits ${fits}`;
    const several = sheets.length > 1 ? `${sheets.length} stencils, each a ` : '';
    lines.push(`${several}sheet ${rounded(sheet.widthMm, 2)} × ${rounded(sheet.heightMm, 2)} mm, ${paper}`);
    const measures = sheet.measures.map(
      ({ from, to, mm, inches }) => `${from}–${to} ${rounded(mm, 2)} mm (${inches} in)`,
    );
    if (measures.length > 0) lines.push(`between dots: ${measures.join(', ')}`);
  }
  lines.push(...paperLines(judgedSheets(result)));
  const notices = motif.notices.filter(({ message }) => !findings.some((finding) => finding.message.includes(message)));
  if (notices.length > 0) {
    lines.push('', 'Of the drawing:');
    for (const { severity, message, element } of notices) {
      lines.push(`  ${severity}  ${message}${message.includes(element) ? '' : ` (${element})`}`);
    }
  }
  lines.push('', ...findingLines(result));
  return `${lines.join('\n')}\n`;
}

/**
 * What stands above the names of the files that were made: what was read, the repeat, what is cut, and the findings that have to be
 * mended before the first cut, with a count of the rest.
 */
export function briefReport(result: Omit<CheckedJob, 'findings'>, findings: readonly Finding[]): string {
  const { motif } = result;
  const grave = findings.filter(({ severity }) => severity === 'stop' || severity === 'fix');
  const rest = findings.length - grave.length;
  const lines = [readLine(motif), repeatLine(result), ...result.statements];
  if (grave.length > 0) lines.push(...findingLines({ findings: grave }));
  if (rest > 0) lines.push(`${counted(rest, 'finding')} to look at or to know: okuri check names them`);
  return `${lines.join('\n')}\n`;
}

function repeatLine({ lattice, job }: Pick<CheckedJob, 'lattice' | 'job'>): string {
  const name = repeatName({ repeat: lattice.repeat });
  const { p } = lattice.repeat.step;
  const by = name === 'straight' || name === 'half-drop' || p === 0 ? '' : ` by ${fractionText(lattice.repeat.step)}`;
  const { a, b } = lattice;
  const units = job.across * job.down > 1 ? `, ${job.across} across and ${job.down} down on one sheet` : '';
  return `${name}${by}: steps (${rounded(a.x, 2)}, ${rounded(a.y, 2)}) and (${rounded(b.x, 2)}, ${rounded(b.y, 2)}) mm${units}`;
}

function findingLines({ findings }: Pick<CheckedJob, 'findings'>): string[] {
  if (findings.length === 0) return ['No findings.'];
  const counts = countFindings(findings);
  const lines = bySeverity(findings).map(({ severity, message, atMm }) => {
    const place = atMm === null ? '' : `  [at ${rounded(atMm.x, 2)}, ${rounded(atMm.y, 2)} mm]`;
    return `  ${severity}  ${message}${place}`;
  });
  const said = SEVERITIES.filter((severity) => counts[severity] > 0).map(
    (severity) => `${counts[severity]} ${severity} (${MEANING[severity]})`,
  );
  return [`Findings: ${said.join(', ')}`, ...lines];
}
