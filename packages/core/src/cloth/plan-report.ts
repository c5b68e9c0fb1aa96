import { fractionText } from '../repeat/fraction.js';
import type { Lattice } from '../repeat/types.js';
import { formatMm } from '../units/format.js';
import { percentText } from '../units/words.js';
import { extraWords } from './paste.js';
import type { FittingSize, Plan } from './plan-types.js';

/** Check marks that the report writes out; the table of placements has them all. */
const MARKS_SHOWN = 12;
/** Panels that the report writes out. */
const PANELS_SHOWN = 12;

/** The plan in lines for a person. What is estimated says so, with its inputs. Findings are not in it: see `planFindings`. */
export function planReport(plan: Plan): string[] {
  return [
    ...clothLines(plan),
    ...placementLines(plan),
    ...groundLines(plan),
    ...passLines(plan),
    ...fittingLines(plan),
    ...lengthLines(plan),
    ...estimateLines(plan),
  ];
}

function clothLines({ cloth, lattice, direction }: Plan): string[] {
  const { table, finished, usable } = cloth;
  const shrinks = cloth.shrinkAcrossPercent !== null || cloth.shrinkAlongPercent !== null;
  const size = `${formatMm(table.widthMm)} × ${formatMm(table.lengthMm)} on the table`;
  return [
    shrinks
      ? `Cloth: ${size}, ${formatMm(finished.widthMm)} × ${formatMm(finished.lengthMm)} when finished (shrinks ${percent(cloth.shrinkAcrossPercent)} across, ${percent(cloth.shrinkAlongPercent)} along).`
      : `Cloth: ${size}.`,
    `Printed: ${formatMm(usable.x1 - usable.x0)} × ${formatMm(usable.y1 - usable.y0)}, from ${formatMm(usable.x0)} beside the left edge and ${formatMm(usable.y0)} after the start.`,
    `Placement: ${formatMm(lattice.widthMm)} × ${formatMm(lattice.heightMm)}, ${repeatWords(lattice)}${direction === 'across' ? ', the sheet turned clockwise by a quarter' : ''}.`,
  ];
}

function placementLines(plan: Plan): string[] {
  const { placements, whole, cut, across, along, leftover, cloth } = plan;
  const brick = plan.lattice.repeat.kind === 'brick';
  const shifted = plan.lattice.repeat.kind !== 'straight' && placements.length > 0;
  const plain = [
    ...(leftover.acrossMm > 0 ? [`${formatMm(leftover.acrossMm)} of the width`] : []),
    ...(leftover.alongMm > 0 ? [`${formatMm(leftover.alongMm)} of the length`] : []),
  ];
  return [
    `Placements: ${placements.length} (${whole} whole, ${cut} cut), at most ${across} across and ${along} along.`,
    ...(shifted
      ? [
          plan.start === 'above' && plan.fill === 'cover'
            ? `${brick ? 'Rows that the repeat shifts begin beside the cloth' : 'Columns that the repeat shifts begin before the start'}, the part beyond it on waste.`
            : `${brick ? 'Rows that the repeat shifts begin' : 'Columns that the repeat shifts begin'} up to ${formatMm(Math.max(cloth.headWasteMm, cloth.sideWasteMm))} in; the gap is trimmed off.`,
        ]
      : []),
    ...plan.masks.map(
      ({ side, onClothMm, beyondMm }) =>
        `Mask, ${side}: ${formatMm(onClothMm)} of cloth, ${formatMm(beyondMm)} of waste beyond it.`,
    ),
    plain.length > 0
      ? `Whole placements leave ${plain.join(' and ')}.`
      : 'Whole placements leave no strip of cloth over.',
  ];
}

function groundLines({ ground, marking }: Plan): string[] {
  if (!ground) return [];
  const onLine = ground.marks.filter(({ acrossMm }) => Math.abs(acrossMm) < 1e-6);
  const shown = onLine.slice(0, MARKS_SHOWN).map(({ id, alongMm }) => `${id} at ${formatMm(alongMm, 1)}`);
  const more = onLine.length > MARKS_SHOWN ? ', …' : '';
  return [
    `Ground line: ${formatMm(ground.xMm)} beside the left edge, along the cloth; dot ${ground.dot} stands on it.`,
    `Check marks, all measured from one zero ${formatMm(ground.zero.y)} after the start: ${shown.join(', ')}${more}.`,
    marking === null
      ? "Each placement lands on the one before: no marking walk. Dots for sighting only don't print: pencil through them before you lift the sheet."
      : 'First a marking walk: step dot on dot along the ground line, then each line from its neighbour, and mark the dots only.',
  ];
}

function passLines({ choice, passes, schedule }: Plan): string[] {
  const proven = choice.count === choice.least ? 'no plan needs fewer' : `at least ${choice.least} are needed`;
  const each = passes.map(({ pass, placements }) => `pass ${pass} ${placements}`).join(', ');
  return [
    `Passes: ${choice.count} for each sheet (${proven}): ${each}.`,
    `Time (an estimate from ${schedule.secondsAPlacement} s a placement, ${schedule.dryingMinutes} min to dry, ${schedule.hoursADay} h of work a day): ${schedule.passes.length} passes in all, about ${Number(schedule.passesADay.toFixed(2))} a day, ${schedule.days} ${schedule.days === 1 ? 'day' : 'days'}.`,
  ];
}

function fittingLines({ fittingSizes }: Plan): string[] {
  return [`Unit sizes that fill the width exactly: ${fittingSizes.map(fittingWords).join('; ')}.`];
}

function fittingWords({ repeats, scale, widthMm, heightMm }: FittingSize): string {
  const size = `${formatMm(widthMm)} × ${formatMm(heightMm)}`;
  return `${repeats} across, ${size} (${scale === 1 ? 'as it is' : `× ${Number(scale.toFixed(4))}`})`;
}

function lengthLines({ order, panels }: Plan): string[] {
  return [
    ...(order
      ? [
          `For ${formatMm(order.finishedMm)} finished${order.repeats === null ? '' : ` in whole repeats (${order.repeats})`}: order ${formatMm(order.orderMm, 0)}, of which ${formatMm(order.printedMm)} are printed (${formatMm(order.printedFinishedMm)} finished).`,
        ]
      : []),
    ...(panels
      ? [
          `Panels: ${panels.count} of ${formatMm(panels.lengthMm)} take ${formatMm(panels.neededMm)} of cloth, ${formatMm(panels.wasteMm)} of it between them so that they match.`,
          ...panels.panels
            .slice(0, PANELS_SHOWN)
            .map((p, k) => `  panel ${k + 1}: from ${formatMm(p.fromMm, 1)} to ${formatMm(p.toMm, 1)}`),
        ]
      : []),
  ];
}

function estimateLines({ paste, wear }: Plan): string[] {
  return [
    ...paste.inks.map(
      ({ ink, openMm2, ml, grams }) =>
        `Paste or colour, ink ${ink} (an estimate from ${Math.round(openMm2)} mm² open, a film of ${formatMm(paste.filmMm)}, ${Number(paste.placements.toFixed(2))} placements, ${extraWords(paste)}, ${paste.densityGPerMl} g/ml): ${Math.ceil(ml)} ml, ${Math.ceil(grams)} g.`,
    ),
    ...wear.sheets.map(
      ({ sheet, ink, needed }) =>
        `Cut sheets of stencil ${sheet}, ink ${ink} (an estimate from ${wear.placementsASheet} placements a sheet${wear.daysASheet === null ? '' : ` and ${wear.daysASheet} days of use`}): ${needed}.`,
    ),
  ];
}

function repeatWords({ repeat }: Lattice): string {
  if (repeat.kind === 'straight') return 'straight';
  return `${repeat.kind} of ${fractionText(repeat.step)}`;
}

function percent(value: number | null): string {
  return value === null ? 'an unknown amount' : percentText(value);
}
