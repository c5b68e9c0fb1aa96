import type { Point } from '../geometry/types.js';
import type { Finding } from '../motif/finding.js';
import type { JudgedSheet } from '../stencil/types.js';
import { counted } from '../units/words.js';
import { workFindings } from './cutting-work.js';
import { islandFindings } from './islands.js';
import { narrowFindings } from './narrow.js';

/** What there is to say about the paper of a sheet; places in mm on the unit. */
export function paperFindings(sheet: JudgedSheet): Finding[] {
  const { paper, field, practice } = sheet;
  const options = {
    gauze: practice.gauze,
    twoSheets: sheet.part !== null,
    name: (opening: number): string => String(opening),
    place: (p: Point): Point => ({ x: p.x - field.x0, y: p.y - field.y0 }),
  };
  // A punch goes round no curve.
  const punched = new Set(sheet.openings.flatMap(({ tool, number }) => (tool === 'punch' ? [number] : [])));
  const workOf = paper.workOf.filter(({ opening }) => !punched.has(opening));
  const found = [
    ...(paper.groundCut ? [groundCut(sheet)] : islandFindings(paper.islands, options)),
    ...narrowFindings(paper, options),
    ...workFindings({ ...paper, workOf }, options),
  ];
  // Of several sheets each has its own: the guide of one does not tell about another.
  return sheet.count === 1 ? found : found.map((f) => ({ ...f, measure: { ...f.measure, sheet: sheet.index } }));
}

/** To mend unless gauze is to come and nothing falls out before it is on. */
function groundCut({ paper, practice, part }: JudgedSheet): Finding {
  const share = Math.round(1000 * paper.cutAway.share) / 10;
  const islands = paper.islands.length;
  const loose = paper.islands.filter(({ dropsAt }) => dropsAt !== 'release').length;
  const falling = practice.gauze ? loose : islands;
  const held = practice.gauze && loose === 0;
  const ways = [
    practice.gauze ? 'release ties that hold it until the gauze is on' : 'gauze',
    ...(part === null ? ['two sheets'] : []),
  ];
  const todo = held ? 'the gauze has to hold it: let it dry well' : `${ways.join(', ')}, or turn cut and paper round`;
  return {
    code: 'ground-cut',
    topic: 'paper',
    severity: held ? 'note' : 'fix',
    message: `The ground is cut: ${todo}. ${share} % of the field is cut away, and ${falling === 0 ? 'no piece' : counted(falling, 'piece')} of paper would fall out${held ? ' before that' : ''}.`,
    atMm: null,
    measure: { share: share / 100, islands },
  };
}

/** Which of two findings about paper alike is worse: more that hangs or falls out first, then the narrower, then the longer one. */
export function graverPaper(p: Finding, q: Finding): number {
  const of = (finding: Finding, key: string, none: number): number => {
    const value = finding.measure?.[key];
    return typeof value === 'number' ? value : none;
  };
  return (
    of(q, 'hangsMm2', 0) - of(p, 'hangsMm2', 0) ||
    of(q, 'areaMm2', 0) - of(p, 'areaMm2', 0) ||
    of(p, 'widthMm', 0) - of(q, 'widthMm', 0) ||
    of(q, 'lengthMm', 0) - of(p, 'lengthMm', 0)
  );
}
