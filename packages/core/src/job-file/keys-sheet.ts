import { USUAL_PACE } from '../strength/cutting-work.js';
import { type AutoPaper, autoPaper } from './auto-paper.js';
import { autoLength, type Bounds, choice, length, number, numberOr, tick } from './field.js';
import { at } from './job-key.js';
import { mirrored, printerPaper } from './own-fields.js';
import type { Job } from './types.js';

/** Under this a border holds nothing: it is the least neck of plain card. */
const BORDER_MM: Bounds = { min: 3, max: 500 };
const DOT_MM: Bounds = { min: 0.2, max: 10 };
const GAP_MM: Bounds = { min: 0, max: 20 };
const SHARE: Bounds = { min: 0, max: 1 };
const KINK_DEG: Bounds = { min: 0, max: 90 };
const PAGE_EDGE_MM: Bounds = { min: 0, max: 100 };
/** A printer that is further off than a tenth has been told to scale. */
const PRINTER_SCALE: Bounds = { min: 0.9, max: 1.1 };

/** How far lead cuts run past the seam by default, mm. A resist shows a hairline of dye, a direct print a hairline of cloth. */
const LAP_MM = { resist: 0.4, direct: 0.1 } as const;

/** What is asked of the paper where the job says "auto": by its kind, by gauze and by how it prints. */
const paperOf = ({ paper, practice, method }: Job): AutoPaper =>
  autoPaper({ kind: paper.kind, gauze: practice.gauze, method });
/** By the size of the sheet, once that is known. */
const bySheet = (): null => null;

/** Keys of the joins, of what is held, of the sheet and its paper, and of the pages that it is printed on. */
export const SHEET_KEYS = {
  'joins.reach': at(
    'joins.reachMm',
    length({ min: 0.05, max: 50 }, '3mm', 'How far apart two ends may be and still belong together.'),
  ),
  'joins.gapShare': at(
    'joins.gapShare',
    number(SHARE, 0.2, 'Share of the width at the seam from which a gap is worth a look.'),
  ),
  'joins.gapMin': at('joins.gapMinMm', length(GAP_MM, '0.2mm', 'A gap under this is never worth a look.')),
  'joins.gapMax': at('joins.gapMaxMm', length(GAP_MM, '0.8mm', 'A gap over this always has to be mended.')),
  'joins.kinkFineDeg': at(
    'joins.kinkFineDeg',
    number(KINK_DEG, 6, 'Kink worth a look in narrow openings, degrees.', { unit: '°' }),
  ),
  'joins.kinkBroadDeg': at(
    'joins.kinkBroadDeg',
    number(KINK_DEG, 12, 'Kink worth a look in broad openings, degrees.', { unit: '°' }),
  ),
  'joins.broad': at(
    'joins.broadMm',
    length({ min: 0, max: 1_000 }, '4mm', 'Width at the seam from which an opening counts as broad.'),
  ),

  'hold.mode': at(
    'hold.mode',
    choice(
      ['band', 'crossing'],
      'band',
      'What waits for the proof: everything in the band, or what crosses the seam and lies near it.',
    ),
  ),
  'hold.width': at(
    'hold.widthMm',
    autoLength(
      { min: 1, max: 1_000 },
      'Width of the held margin; "auto" is 1 in, at most a sixth of the side, at least 10 mm.',
      bySheet,
    ),
  ),
  lap: at(
    'lapMm',
    autoLength(
      { min: 0, max: 10 },
      'How far lead cuts run past the seam; "auto" is 0.4 mm for resist and 0.1 mm for direct.',
      (job) => LAP_MM[job.method],
    ),
  ),

  'sheet.border': at('sheet.borderMm', length(BORDER_MM, '40mm', 'Paper left around the design field.')),
  'sheet.trailing': at('sheet.trailingMm', length(BORDER_MM, '25mm', 'Paper left at the right and the bottom edge.')),
  'sheet.dot': at('sheet.dotMm', length(DOT_MM, '1mm', 'Diameter of the leading dots, which print.')),
  'sheet.sightDot': at(
    'sheet.sightDotMm',
    length(DOT_MM, '1.5mm', 'Diameter of the trailing dots, through which printed ones are sighted.'),
  ),
  'sheet.seat': at(
    'sheet.seat',
    tick(
      false,
      'Put all dots where they show least: near openings where several columns print, in the selvedges where one does.',
    ),
  ),

  'paper.kind': at(
    'paper.kind',
    choice(
      ['treated', 'card'],
      'treated',
      'The stencil paper: treated (tanned and oiled or smoked) paper, or plain card.',
    ),
  ),
  'paper.neck': at(
    'paper.rules.neckMm',
    autoLength(
      { min: 0.2, max: 20 },
      'The least width of paper that may stand between openings; "auto" is 3 mm for card, and for treated paper 1 mm with gauze and 2 mm without.',
      (job) => paperOf(job).neckMm,
    ),
  ),
  'paper.slit': at(
    'paper.rules.slitMm',
    autoLength(
      { min: 0.1, max: 20 },
      'The least width of an opening that knife and paste manage; "auto" is 0.8 mm for resist and 0.5 mm for direct.',
      (job) => paperOf(job).slitMm,
    ),
  ),
  'paper.span': at(
    'paper.rules.spanMm',
    autoLength(
      { min: 5, max: 3_000 },
      'The longest opening without a tie across; "auto" is 120 mm with gauze and 50 mm without.',
      (job) => paperOf(job).spanMm,
    ),
  ),
  'paper.tongue': at(
    'paper.rules.tongueRatio',
    numberOr(
      'auto',
      { min: 0.5, max: 100 },
      'The longest tongue of paper, as so many times the width of its root; "auto" is 6 with gauze and 3 without.',
      {
        expects: '"auto" or a number of roots',
        usual: (job) => paperOf(job).tongueRatio,
      },
    ),
  ),
  'paper.stroke': at(
    'paper.rules.stroke',
    choice(['down', 'up', 'left', 'right'], 'down', 'The way the spatula is drawn over the sheet.'),
  ),
  'paper.turn': at(
    'paper.rules.turnMm',
    length({ min: 0.1, max: 50 }, '1.5mm', 'The tightest radius that a blade turns.'),
  ),
  'paper.tieWidth': at(
    'paper.tie.widthMm',
    autoLength(
      { min: 0.2, max: 30 },
      'Width of ties; "auto" is 2 mm for treated paper and 3 mm for card, and never less than `neck`.',
      (job) => Math.max(paperOf(job).tieWidthMm, job.paper.rules.neckMm),
    ),
  ),
  'paper.tieFlare': at(
    'paper.tie.flareMm',
    length(
      { min: 0, max: 2 },
      '0.4mm',
      'How much wider a tie gets on each side where it ends; 0.3 mm to 0.5 mm is usual.',
    ),
  ),
  'paper.largeIsland': at(
    'paper.tie.largeMm2',
    number({ min: 1, max: 1_000_000 }, 150, 'Islands above this area, mm², get two ties.', { unit: ' mm²' }),
  ),
  'paper.hideTies': at(
    'paper.tie.hide',
    tick(true, 'Spend up to half as much length again on ties where the drawing breaks anyway.'),
  ),

  'double.on': at(
    'double.on',
    tick(false, 'Cut each ink as two sheets, so that the second prints where the first has its ties.'),
  ),
  'double.overlap': at(
    'double.overlapMm',
    length({ min: 0, max: 10 }, '0.6mm', 'How far the second sheet prints over the edges that both share.'),
  ),

  'pace.mmPerMinute': at(
    'pace.mmPerMinute',
    number({ min: 1, max: 10_000 }, USUAL_PACE.mmPerMinute, 'Cut in a minute, mm, stops at corners not counted.', {
      unit: ' mm',
    }),
  ),
  'pace.secondsPerCorner': at(
    'pace.secondsPerCorner',
    number({ min: 0, max: 300 }, USUAL_PACE.secondsPerCorner, 'Seconds for a corner: stop, lift and set down again.', {
      unit: ' s',
    }),
  ),
  'pace.blade': at(
    'pace.bladeMm',
    length({ min: 10, max: 1_000_000 }, `${USUAL_PACE.bladeMm / 1000}m`, 'Cut with one blade.'),
  ),

  'pages.paper': at(
    'pages.paper',
    printerPaper('A4', 'Printer paper: A4, Letter, … or a size such as "329mm x 483mm".'),
  ),
  'pages.orientation': at(
    'pages.orientation',
    choice(['auto', 'portrait', 'landscape'], 'auto', 'How pages lie; "auto" takes what needs fewer.'),
  ),
  'pages.margin': at(
    'pages.marginMm',
    length(PAGE_EDGE_MM, '6.35mm', 'What the printer leaves blank along every edge.'),
  ),
  'pages.overlap': at('pages.overlapMm', length(PAGE_EDGE_MM, '10mm', 'How far neighbouring pages overlap.')),
  'pages.mirror': at(
    'pages.mirror',
    mirrored(
      'Mirror the artwork, not the text. "auto" goes by the transfer, and none of them needs mirrored pages: pages are cut through, traced or seen through from the face of the stencil paper. Say true to work from its back.',
    ),
  ),
  'pages.skipBlank': at('pages.skipBlank', tick(false, 'Leave out pages with no artwork on them.')),
  'pages.scaleAcross': at('pages.scaleAcross', number(PRINTER_SCALE, 1, 'Printer correction across the page.')),
  'pages.scaleAlong': at('pages.scaleAlong', number(PRINTER_SCALE, 1, 'Printer correction along the page.')),
};
