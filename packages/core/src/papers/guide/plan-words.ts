import type { CheckMark, Mask, Plan, PlanPass, PlanPlacement } from '../../cloth/plan-types.js';
import type { Point } from '../../geometry/types.js';
import { type DotPair, sheetRepeat, sheetSteps } from '../../register/dots.js';
import type { Sheet } from '../../stencil/types.js';
import { bothRulers, formatMm } from '../../units/format.js';
import { percentText } from '../../units/words.js';
import { repeatWords } from '../sheet/words.js';

/** Less than this is nothing on a tape, mm. */
const NOTHING_MM = 0.05;

function from(mm: number, what: string, beyond: string): string {
  return Math.abs(mm) < NOTHING_MM ? what : `${formatMm(mm, 1)} ${beyond} ${what}`;
}

/** What is printed on, and what is printed. */
export function clothFacts(plan: Plan): (readonly [string, string])[] {
  const { cloth, lattice, direction, placements, whole, cut, across, along, order, panels } = plan;
  const { table, finished, usable } = cloth;
  const known = cloth.shrinkAcrossPercent !== null || cloth.shrinkAlongPercent !== null;
  const shrinks = (percent: number | null): string => (percent === null ? 'not measured' : percentText(percent));
  return [
    ['Cloth', `${size(table)} on the table${known ? `, ${size(finished)} when finished` : ''}`],
    [
      'Shrinkage',
      known
        ? `across ${shrinks(cloth.shrinkAcrossPercent)}, along ${shrinks(cloth.shrinkAlongPercent)}`
        : 'not measured: NOTHING is allowed for; wash a swatch and measure it before and after',
    ],
    [
      'Usable',
      `${bothRulers(usable.x1 - usable.x0)} wide, from ${from(usable.x0, 'the left edge', 'beside')}; ${bothRulers(usable.y1 - usable.y0)} long, from ${from(usable.y0, 'the start', 'after')}`,
    ],
    [
      'One placement',
      `${formatMm(lattice.widthMm, 1)} across × ${formatMm(lattice.heightMm, 1)} along, ${repeatWords(lattice)}${direction === 'across' ? '; the sheet lies turned clockwise by a quarter, its left side towards the start' : ''}`,
    ],
    [
      'Placements',
      `${placements.length} (${whole} whole, ${cut} cut), at most ${across} across and ${along} along${leftWords(plan)}`,
    ],
    ...(order === null
      ? []
      : [
          [
            'To order',
            `${formatMm(order.orderMm, 0)} for ${formatMm(order.finishedMm)} finished${order.repeats === null ? '' : ` in whole repeats (${order.repeats})`}`,
          ] as const,
        ]),
    ...(panels === null
      ? []
      : [
          [
            'Panels',
            `${panels.count} of ${formatMm(panels.lengthMm)}, in all ${formatMm(panels.neededMm)} with ${formatMm(panels.wasteMm)} between them so that they match${panels.fits ? '' : '; this cloth is too short for them'}`,
          ] as const,
        ]),
  ];
}

function leftWords({ leftover, fill }: Plan): string {
  const parts = [
    ...(leftover.acrossMm > NOTHING_MM ? [`${formatMm(leftover.acrossMm, 1)} of the width`] : []),
    ...(leftover.alongMm > NOTHING_MM ? [`${formatMm(leftover.alongMm, 1)} of the length`] : []),
  ];
  if (parts.length === 0) return '';
  return `; whole ones leave ${parts.join(' and ')}${fill === 'cover' ? ', printed with cut ones' : ', plain'}`;
}

/** How a line of the repeat (a column; a row of a brick) begins. */
export interface LineStart {
  readonly first: PlanPlacement;
  readonly words: string;
}

/** The first placement of every line of the repeat, in their order. */
export function lineStarts(plan: Plan): LineStart[] {
  const brick = plan.lattice.repeat.kind === 'brick';
  const { usable } = plan.cloth;
  return plan.placements
    .filter(({ column, row }) => (brick ? column : row) === 1)
    .map((first) => {
      const before = brick ? usable.x0 - first.field.x0 : usable.y0 - first.field.y0;
      const edge = brick ? 'beside the usable cloth' : 'before the usable start';
      const words =
        before > NOTHING_MM
          ? `${formatMm(before, 1)} of it ${edge}, on mask and waste`
          : before < -NOTHING_MM
            ? `${formatMm(-before, 1)} in: the gap stays plain`
            : 'on the edge';
      return { first, words };
    });
}

/** Check marks of lines of the repeat that have the same measures along the cloth. */
export interface MarkGroup {
  readonly columns: readonly number[];
  readonly marks: readonly CheckMark[];
}

/** The check marks of columns, those with the same measures together. */
export function markGroups({ ground, placements }: Plan): MarkGroup[] {
  if (ground === null) return [];
  const columnOf = new Map(placements.map(({ id, column }) => [id, column]));
  const byColumn = new Map<number, CheckMark[]>();
  for (const mark of ground.marks) {
    const column = columnOf.get(mark.id) ?? 0;
    const own = byColumn.get(column);
    if (own) own.push(mark);
    else byColumn.set(column, [mark]);
  }
  const groups = new Map<string, { columns: number[]; marks: CheckMark[] }>();
  for (const [column, marks] of byColumn) {
    const key = marks.map(({ alongMm }) => alongMm.toFixed(3)).join(' ');
    const group = groups.get(key);
    if (group) group.columns.push(column);
    else groups.set(key, { columns: [column], marks });
  }
  return [...groups.values()];
}

/** How a mask lies. */
export function maskWords({ side, onClothMm, beyondMm }: Mask): string {
  const where = { start: 'the start', end: 'the end', left: 'the left side', right: 'the right side' }[side];
  const parts = [
    ...(onClothMm > NOTHING_MM ? [`${formatMm(onClothMm, 1)} of cloth covered`] : []),
    ...(beyondMm > NOTHING_MM ? [`${formatMm(beyondMm, 1)} of waste laid beyond it`] : []),
  ];
  return `Along ${where}: ${parts.join(', ')}.`;
}

/** A step on the cloth: mm to the right and along it, and the dots that land on each other. */
export interface ClothStep {
  readonly vector: Point;
  /** Empty where the sheet has no dots for this step. */
  readonly pairs: readonly DotPair[];
}

/** The steps that the plan's cloth needs. */
export function clothSteps(plan: Plan, sheet: Sheet): ClothStep[] {
  const turned = plan.direction === 'across';
  const field = { x0: 0, y0: 0, x1: sheet.field.x1 - sheet.field.x0, y1: sheet.field.y1 - sheet.field.y0 };
  const unit = plan.lattice.repeat;
  // The lattice lies as the sheet does: turned back, it is the sheet's own.
  const own = turned
    ? sheetRepeat(
        {
          kind: ({ straight: 'straight', drop: 'brick', brick: 'drop' } as const)[unit.kind],
          step: { p: -unit.step.p, q: unit.step.q },
        },
        1,
        1,
      )
    : unit;
  const sides = turned
    ? { right: plan.along > 1, bottom: plan.across > 1 }
    : { right: plan.across > 1, bottom: plan.along > 1 };
  const steps = (['right', 'bottom'] as const)
    .filter((side) => sides[side])
    .map((side) => {
      const f = own.step.p / own.step.q;
      const share = f > 0.5 ? f - 1 : f;
      const vector =
        side === 'right'
          ? { x: field.x1, y: own.kind === 'drop' ? share * field.y1 : 0 }
          : { x: own.kind === 'brick' ? share * field.x1 : 0, y: field.y1 };
      const landing = sheet.dots.flatMap((from) =>
        sheet.dots.filter((to) => isMoved(from.at, to.at, vector)).map((to) => ({ from: from.name, to: to.name })),
      );
      // Two pairs without a dot in common are there or not; where they are, the farthest are taken.
      const two = landing.some((one) => landing.some((two) => disjoint(one, two)));
      const pairs = two
        ? sheetSteps(field, own, sheet.dots, { right: side === 'right', bottom: side === 'bottom' })[0].pairs
        : landing;
      return { vector: turned ? { x: -vector.y, y: vector.x } : vector, pairs };
    });
  return turned ? steps.reverse() : steps;
}

/** Two dots nearer than this fall together, mm: rounding, far below the point of any punch. */
const SAME_PLACE_MM = 1e-6;

function isMoved(from: Point, to: Point, by: Point): boolean {
  return Math.hypot(to.x - from.x - by.x, to.y - from.y - by.y) <= SAME_PLACE_MM;
}

function disjoint(a: DotPair, b: DotPair): boolean {
  return new Set([a.from, a.to, b.from, b.to]).size === 4;
}

/** `420 mm to the right, 280 mm along the cloth`. */
export function stepWords({ x, y }: Point): string {
  const part = (mm: number, more: string, less: string) =>
    Math.abs(mm) < NOTHING_MM ? [] : [`${formatMm(Math.abs(mm), 1)} ${mm > 0 ? more : less}`];
  return [...part(x, 'to the right', 'to the left'), ...part(y, 'along', 'back')].join(', ');
}

/** A pass in a row of a table: number, placements, columns, rows, first and last, walk. */
export function passRow({ placements }: Plan, { pass, placements: count, walkMm }: PlanPass): string[] {
  const own = placements.filter((p) => p.pass === pass);
  let [first, last] = [own[0], own[0]];
  for (const p of own) {
    if (p.order < first.order) first = p;
    if (p.order > last.order) last = p;
  }
  return [
    `${pass}`,
    `${count}`,
    numberWords(own.map(({ column }) => column)),
    numberWords(own.map(({ row }) => row)),
    own.length === 0 ? '–' : first.id,
    own.length === 0 ? '–' : last.id,
    `${(walkMm / 1000).toFixed(1)} m`,
  ];
}

/** Numbers in a few words: `1, 3`, `1, 3, …, 9`, `1 to 9`. */
export function numberWords(numbers: readonly number[]): string {
  const sorted = [...new Set(numbers)].sort((a, b) => a - b);
  const [first, second] = sorted;
  const last = sorted[sorted.length - 1];
  if (sorted.length < 4) return sorted.join(', ');
  const by = second - first;
  const even = sorted.every((n, k) => k === 0 || n - sorted[k - 1] === by);
  if (even) return by === 1 ? `${first} to ${last}` : `${first}, ${second}, …, ${last}`;
  return sorted.length <= 6 ? sorted.join(', ') : `${sorted.slice(0, 4).join(', ')}, …, ${last}`;
}

function size({ widthMm, lengthMm }: { readonly widthMm: number; readonly lengthMm: number }): string {
  return `${bothRulers(widthMm)} wide, ${bothRulers(lengthMm)} long`;
}
