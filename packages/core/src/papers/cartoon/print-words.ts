import type { FlowBlock } from '../../draw/text-flow.js';
import type { PagePlan } from '../../pages/types.js';
import type { Sheet } from '../../stencil/types.js';
import { formatMm } from '../../units/format.js';
import { counted, listText } from '../../units/words.js';
import { movementWords } from '../sheet/movement-words.js';

/** What the instructions have to know beside the plan. */
export interface InstructionFacts {
  readonly sheet: Sheet;
  readonly statements: readonly string[];
  readonly mirrored: boolean;
  /** Names of pages without anything to cut, and whether they were left out. */
  readonly blank: readonly string[];
  readonly skipped: boolean;
  readonly printed: number;
}

/** How to print, join and check the pages of a plan, and the cautions, as running text. */
export function instructions(plan: PagePlan, facts: InstructionFacts): FlowBlock[] {
  return [
    ...facts.statements.map((text): FlowBlock => ({ kind: 'paragraph', text })),
    ...printing(plan, facts),
    ...joining(plan),
    ...checking(facts.sheet),
    ...CAUTIONS,
  ];
}

function printing(plan: PagePlan, { mirrored, blank, skipped, printed }: InstructionFacts): FlowBlock[] {
  const { scaleAcross, scaleAlong, paper } = plan;
  const corrected = scaleAcross !== 1 || scaleAlong !== 1;
  const blocks: FlowBlock[] = [
    heading('Print'),
    step(
      '1',
      `Print at 100 % ("actual size") on ${formatMm(paper.widthMm)} × ${formatMm(paper.heightMm)}, ${plan.orientation}, one side. Switch off "fit to page", "shrink" and the like.`,
    ),
    step(
      '2',
      'Print one page first and measure both of its bars with a steel ruler: the one across the page and the one along it.',
    ),
    step(
      '3',
      `If a bar is not its stated length, put the printer right in the job: its correction is stated ÷ measured${corrected ? ', times the present one' : ''}, one for the bar across and one for the bar along. Stated 180 mm, measured 179.1 mm: 180 ÷ 179.1 = 1.005. A bar that is off by 2 % or more tells of scaling that is still on.`,
    ),
    step(
      '4',
      `These pages carry the corrections ${plain(scaleAcross)} across and ${plain(scaleAlong)} along. They hold for this printer, this paper and this way of laying it.`,
    ),
  ];
  if (mirrored) {
    blocks.push(
      paragraph('The artwork is mirrored and shows the back of the sheet; words, numbers and bars are not mirrored.'),
    );
  }
  if (blank.length > 0) {
    const what = blank.length === 1 ? `Page ${blank[0]} holds` : `Pages ${listText(blank)} hold`;
    blocks.push(
      paragraph(
        `${what} nothing to cut${skipped ? `, and ${blank.length === 1 ? 'is' : 'are'} left out: put plain paper in the place` : ''}.`,
      ),
    );
  }
  const sheets = counted(printed, 'page belongs', 'pages belong');
  blocks.push(paragraph(`${sheets} to the sheet, these instructions not counted.`));
  return blocks;
}

function joining({ rows, columns, overlapMm }: PagePlan): FlowBlock[] {
  if (rows * columns === 1)
    return [heading('Join'), paragraph('The sheet fits on one page: there is nothing to join.')];
  const edges = [
    ...(columns > 1 ? ['its left edge (but not on the first page of a row)'] : []),
    ...(rows > 1 ? ['its top edge (but not in the first row)'] : []),
  ].join(' and ');
  return [
    heading('Join'),
    step('1', 'Check the bars of every page before anything is cut off.'),
    step('2', `Cut each page along the long-dashed trim line on ${edges}.`),
    step(
      '3',
      `Lay the cut edge on the neighbour's line of short dashes: pages overlap by ${formatMm(overlapMm)}. The halves of the lozenges with the same code (such as P1·P2) make whole ones, and the hair line through them runs on straight.`,
    ),
    step('4', `${order(rows, columns)} Fix with small pieces of tape first; tape through only when all is checked.`),
    step('5', 'What shows outside the outline of the sheet comes off last.'),
  ];
}

function order(rows: number, columns: number): string {
  if (rows === 1) return 'Go from left to right.';
  if (columns === 1) return 'Go from the top down.';
  return 'Join each row from left to right, then the rows from the top down.';
}

function checking(sheet: Sheet): FlowBlock[] {
  const words = { width: 'width', height: 'height', diagonal: 'diagonal', step: 'dot' } as const;
  const at = [0, 0.15, 0.4, 0.62, 0.85];
  const head: FlowBlock = { kind: 'row', tick: 'space', at, cells: ['dots', '', 'mm', 'in', 'mm ±'] };
  const rows = sheet.measures.map(
    ({ what, from, to, mm, inches, inchErrorMm }): FlowBlock => ({
      kind: 'row',
      tick: 'box',
      at,
      cells: [`${from}–${to}`, words[what], mm.toFixed(1), inches, signed(inchErrorMm)],
    }),
  );
  return [
    heading('Check after joining'),
    paragraph(
      'Measure between the centres of the dots. All four sides and both diagonals have to be right: equal diagonals alone do not make a rectangle. Last column: how much longer (+) or shorter (−) the rounded inches are.',
    ),
    ...(movementWords(sheet) === null
      ? []
      : [paragraph('These are the measures of the dry drawing; soaked, the sheet has those of the print.')]),
    head,
    ...rows,
  ];
}

const CAUTIONS: readonly FlowBlock[] = [
  { kind: 'heading', text: 'Take care' },
  paragraph(
    'The blade is sharp. Keep the holding hand behind it and out of its path, cut away from that hand, and turn the sheet instead. Cut on a mat that is larger than the work.',
  ),
  paragraph(
    'Change a blade that drags. Used blades go into a closed, puncture-proof box, never loose into the bin; cover or draw in the blade when you lay the knife down.',
  ),
  paragraph(
    "Treated, oiled or waxed paper in a printer: follow the printer's and the paper maker's guidance; where there is none, print on plain paper and fix it over the stencil paper.",
  ),
  paragraph(
    'Dyes, pigments, lime and soda: read the safety data sheet first; wear gloves, air the room, and wear a dust mask for powders.',
  ),
  paragraph('Local rules and qualified advice come first.'),
];

function heading(text: string): FlowBlock {
  return { kind: 'heading', text };
}

function paragraph(text: string): FlowBlock {
  return { kind: 'paragraph', text };
}

function step(label: string, text: string): FlowBlock {
  return { kind: 'paragraph', text, label };
}

function plain(factor: number): string {
  return `${Number(factor.toFixed(5))}`;
}

function signed(mm: number): string {
  const size = Math.abs(mm).toFixed(2);
  return size === '0.00' ? '±0' : `${mm < 0 ? '−' : '+'}${size}`;
}
