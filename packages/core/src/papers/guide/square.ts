import { type GuidePages, LINE_MM } from '../../draw/layout.js';
import { finerWords, mayDifferWords, mustAgreeWords, stopWhenWords } from '../../register/limit-words.js';
import { movedDistance, movementEffect, TOLD_PERCENT } from '../../register/movement.js';
import type { PunchDistance, PunchOrder } from '../../register/punch-order.js';
import type { Corner } from '../../register/types.js';
import type { Sheet } from '../../stencil/types.js';
import { formatMm, nearestInches } from '../../units/format.js';
import { listText, percentText } from '../../units/words.js';
import { sheetLimits } from '../sheet/movement-words.js';
import { dotPlaces } from './dots.js';
import { grainWords } from './practice-words.js';
import { squarePicture } from './square-picture.js';
import { blankTable } from './square-table.js';
import { holeLetter, type SquareWork, squareWork } from './square-work.js';

const CORNER_WORDS: Readonly<Record<Corner, string>> = {
  upperLeft: 'upper left',
  upperRight: 'upper right',
  lowerRight: 'lower right',
  lowerLeft: 'lower left',
};

/** An error smaller than this is none on a ruler, mm. */
const EXACT_MM = 0.005;

/** When a sheet's dots are punched: the guide has these pages where that comes in the work. */
export function punchedWet(sheet: Sheet): boolean {
  return sheet.register.punch === 'wet';
}

/**
 * How to punch the dots with only a ruler, a table to write down what is measured, and the dots' surroundings at true size. Nothing for a sheet without dots, or whose dots
 * lie too near together or too far apart for a ruler.
 */
export function squarePages(pages: GuidePages, sheet: Sheet): void {
  const work = squareWork(sheet);
  if (work === null) return;
  pages.newPage();
  pages.heading('Punch and square');
  pages.facts(squareFacts(work), { labelMm: 33 });
  squarePicture(pages, work, { belowMm: punchTableHeight(work) });
  punchTable(pages, work);
  measureTable(pages, work);
  dotPlaces(pages, work);
}

function squareFacts(work: SquareWork): (readonly [string, string])[] {
  const { sheet, punch, printed, extra } = work;
  const seat = {
    corners: 'on the corners of the design',
    openings: 'moved all together from the corners of the design to where they show least',
    selvedge: 'beside the design, in the selvedges of the cloth',
  }[sheet.register.seat];
  const units = sheet.across * sheet.down === 1 ? '' : '; they belong to the sheet, not to each unit on it';
  const between = extra.length === 0 ? '' : `; ${listText(extra.map(({ name }) => name))} between them, for the step`;
  const how =
    punch === 'dry'
      ? 'dry: pricked through the joined cartoon, then checked as below; without a cartoon punch with a ruler in this order'
      : 'wet: on the soaked sheet, lying flat, with a ruler in this order; not through the cartoon';
  return [
    ['Dots', `${seat}${between}${units}`],
    ['Punched', how],
    [
      'As it prints',
      `${formatMm(printed.widthMm, 1)} × ${formatMm(printed.heightMm, 1)} from dot to dot, diagonals ${formatMm(Math.hypot(printed.widthMm, printed.heightMm), 1)}`,
    ],
    ['Paper movement', movementFact(work)],
    ['Must agree', `${statesWords(work)}${mustAgreeWords(sheetLimits(sheet))}`],
    ...(isSoakedLater(work) ? [['May differ', mayDifferWords(work.movement !== null)] as const] : []),
    ['Grain', grainWords(sheet.practice)],
  ];
}

/** What the paper does when it is soaked: told in every case. */
function movementFact({ sheet, punch, movement, printed }: SquareWork): string {
  const { soak, grain } = sheet.practice;
  if (!soak) return 'this sheet is not soaked, so none is allowed for';
  if (movement === null) {
    const { widthMm, heightMm } = movementEffect(printed, { widthPercent: TOLD_PERCENT, heightPercent: TOLD_PERCENT });
    const unknown = grain === null ? 'not known (not measured, or the grain is not known)' : 'not measured';
    return `${unknown}: NOTHING is allowed for. ${TOLD_PERCENT} % would make this sheet ${formatMm(widthMm, 1)} wider and ${formatMm(heightMm, 1)} higher. Measure a strip along the grain and one across, dry and soaked, and tell the dyer`;
  }
  const part = (percent: number) => `${percent > 0 ? '+' : ''}${percentText(percent)}`;
  const moves = `soaked, width ${part(movement.widthPercent)} and height ${part(movement.heightPercent)}`;
  if (punch === 'wet') return `${moves}; all lengths here are those of the soaked sheet`;
  const dry = (mm: number, percent: number) => formatMm(movedDistance(mm, percent, { to: 'dry' }), 1);
  return `${moves}; allowed for: ${dry(printed.widthMm, movement.widthPercent)} × ${dry(printed.heightMm, movement.heightPercent)} from dot to dot on the dry paper`;
}

/** Punched dry, and soaked before it prints. */
function isSoakedLater({ sheet, punch }: SquareWork): boolean {
  return punch === 'dry' && sheet.practice.soak;
}

function statesWords(work: SquareWork): string {
  return isSoakedLater(work) ? 'dry and soaked alike: ' : '';
}

/** About the height of the table with what is said below it, mm. */
function punchTableHeight({ order }: SquareWork): number {
  const rows = order.steps.reduce((sum, s) => sum + Math.max(1, s.distances.length) + (s.check === null ? 0 : 1), 0);
  return 14 + (rows + 1) * (LINE_MM + 0.8) + 8 * LINE_MM;
}

function punchTable(pages: GuidePages, work: SquareWork): void {
  const { order, names } = work;
  pages.heading('In this order, with only a ruler', 6 * LINE_MM);
  pages.table(
    [
      { head: 'no.', share: 0.06 },
      { head: 'dot', share: 0.18 },
      { head: 'how', share: 0.25 },
      { head: `mm, to ${order.metricStepMm}`, share: 0.18 },
      { head: `inches, to 1/${order.rulerParts}`, share: 0.19 },
      { head: 'then off, mm', share: 0.14 },
    ],
    order.steps.flatMap((step, k) => {
      const dot = dotWords(step.hole, work);
      if (step.how === 'start') return [[`${k + 1}`, dot, startWords(work), '–', '–', '–']];
      const lengths = (one: PunchDistance) => [
        `${formatMm(one.metric.mm)}${off(one.metric.errorMm)}`,
        `${one.inches.text} in${off(one.inches.errorMm)}`,
        effectWords(one),
      ];
      const how = step.how === 'along' ? `${isMoved(work) ? 'along' : 'on'} the lead side, from` : 'arc around';
      return [
        ...step.distances.map((one, n) => [
          n === 0 ? `${k + 1}` : '',
          n === 0 ? dot : '',
          `${n === 0 ? how : 'and arc around'} ${holeLetter(one.from, names)}`,
          ...lengths(one),
        ]),
        ...(step.check === null
          ? []
          : [['', '', `then check from ${holeLetter(step.check.from, names)}`, ...lengths(step.check)]]),
      ];
    }),
  );
  pages.space(1);
  pages.paragraph({
    text: 'In brackets: what rounding to the ruler’s marks adds or takes, mm. “Then off”: how far that alone puts the far side, or the dot itself, off its place: by the mm ruler / by the inch ruler.',
  });
  const { metricEffect, inchEffect, rulerParts, metricStepMm } = order;
  const all = (effect: typeof metricEffect) =>
    `${formatMm(effect.farSideMm)} out of square over the far side (${Number(effect.outOfSquareDeg.toFixed(3)) + 0}°), opposite sides ${formatMm(effect.sidesMm)} apart`;
  pages.paragraph({
    text: `All roundings together, set to ${formatMm(metricStepMm)}: ${all(metricEffect)}. 1/${rulerParts} in ruler: ${all(inchEffect)}.${narrowWords(order)}`,
  });
  pages.paragraph({
    text: 'Hold the ruler down with the hand behind it, punch on a mat or a wood block, and put the awl into a cork between two dots.',
  });
}

/** Arcs cross so flatly on a narrow sheet that what no ruler shows moves its far side too far. */
function narrowWords({ metricDoes, inchesDo }: PunchOrder): string {
  if (metricDoes && inchesDo) return '';
  const ruler = metricDoes ? ' with the inch ruler' : inchesDo ? ' in mm' : '';
  return ` Set${ruler}, roundings alone put this sheet over what may differ: set the last dot by its check, not by the arcs, and measure before you punch it.`;
}

/** The dots' frame is not that of the design. */
function isMoved({ inHand, frame }: SquareWork): boolean {
  return Math.abs(frame.x0 - inHand.field.x0) > EXACT_MM || Math.abs(frame.y0 - inHand.field.y0) > EXACT_MM;
}

/** Where the first dot goes: on the corner of the design, or so far from it. */
function startWords(work: SquareWork): string {
  if (!isMoved(work)) return 'where the lead sides meet';
  const { inHand, frame } = work;
  const [x, y] = [frame.x0 - inHand.field.x0, frame.y0 - inHand.field.y0];
  const part = (mm: number, more: string, less: string) =>
    Math.abs(mm) <= EXACT_MM ? [] : [`${formatMm(Math.abs(mm), 1)} ${mm > 0 ? more : less}`];
  return `from the design’s corner ${[...part(x, 'right', 'left'), ...part(y, 'down', 'up')].join(', ')}`;
}

function measureTable(pages: GuidePages, work: SquareWork): void {
  const { sheet, punch, movement, printed, order } = work;
  pages.heading('Measure and write down', 8 * LINE_MM);
  const state = punch === 'wet' ? 'on the soaked sheet, lying flat' : sheet.practice.soak ? 'on the dry sheet' : '';
  pages.paragraph({
    text: `Measure every line twice${state ? `, ${state}` : ''}, from middle to middle of the holes, with the ruler taken off and laid on again. Equal diagonals alone prove nothing: a sheet that narrows evenly has them too. Only all four sides and both diagonals together do.${isSoakedLater(work) ? ' The columns “dry” and “soaked” are the plan (a dash: not known); write both readings into the last two.' : ''}`,
  });
  pages.space(1.5);
  blankTable(pages, work);
  const limits = sheetLimits(sheet);
  const finer = finerWords(limits);
  pages.paragraph({
    text: `Stop and call the dyer when ${stopWhenWords(limits)}${isSoakedLater(work) ? ', dry or soaked' : ''}.${finer === null ? '' : ` ${finer}`}`,
  });
  pages.paragraph({
    text: 'Give both readings of each distance, with their unit, to whoever has the job at the computer. They tell whether the readings can be right, whether the sheet is square, what that does along the cloth, and which hole to punch again, if any.',
  });
  if (punch === 'wet' || !sheet.practice.soak) return;
  const { widthMm, heightMm } = printed;
  const size = `${formatMm(widthMm, 1)} × ${formatMm(heightMm, 1)}, diagonals ${formatMm(Math.hypot(widthMm, heightMm), 1)}`;
  const soaked =
    movement === null
      ? 'how much it grows is not known, so its sizes are no reason to stop, and the readings tell it'
      : `it should then be ${size} (${inchWords([widthMm, heightMm, Math.hypot(widthMm, heightMm)], order.rulerParts)})`;
  pages.paragraph({
    text: `Measure again when the sheet is soaked, and say so with the readings: ${soaked}.`,
  });
}

/** Lengths on an inch ruler: `11 13/16, 15 3/4 and 19 11/16 in`. */
function inchWords(lengths: readonly number[], parts: number): string {
  return `${listText(lengths.map((mm) => nearestInches(mm, parts).text))} in`;
}

function dotWords(hole: string, { names }: SquareWork): string {
  return hole in CORNER_WORDS
    ? `${names[hole as Corner]}, ${CORNER_WORDS[hole as Corner]}`
    : `${hole}, between corners`;
}

function off(errorMm: number): string {
  if (Math.abs(errorMm) < EXACT_MM) return '';
  return ` (${errorMm > 0 ? '+' : '−'}${Math.abs(errorMm).toFixed(2)})`;
}

function effectWords({ metric, inches }: PunchDistance): string {
  const worst = ({ farSideMm, sidesMm }: PunchDistance['metric']['effect']) => Math.max(farSideMm, sidesMm).toFixed(2);
  return `${worst(metric.effect)} / ${worst(inches.effect)}`;
}
