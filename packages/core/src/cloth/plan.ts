import type { Point } from '../geometry/types.js';
import { makeLattice, straightTile } from '../repeat/lattice.js';
import type { Lattice } from '../repeat/types.js';
import type { Sheet } from '../stencil/types.js';
import { groundLine } from './ground-line.js';
import { laidLattice, laidSheet, reversedRepeat, sheetLattice } from './laid-sheet.js';
import { markingWalk } from './marking-walk.js';
import { clothMasks } from './masks.js';
import { planPanels } from './panels.js';
import { makePasses } from './passes.js';
import { estimatePaste, estimateWear } from './paste.js';
import { clothLeftover, firstField, type LaidPlacement, lateStart, layPlacements } from './placements.js';
import { fullPlanOptions, type PlanOptions } from './plan-options.js';
import type { BackFace, Plan, PlanPlacement } from './plan-types.js';
import { makeSchedule } from './schedule.js';
import { fittingSizes } from './unit-sizes.js';
import { wetConflicts } from './wet.js';
import { lengthToOrder, planCloth } from './yardage.js';

/**
 * Plans a run along a cloth: where every placement goes, in which pass and order, what has to be masked and marked, how much cloth, time and paste it
 * takes. `sheets` are the job's stencils (fields alike), `lattice` that of the **unit**; sheets are stepped by their fields at the size they are cut.
 * Throws an `InputError` for input that can't be: see `fullPlanOptions` and `planCloth`; no sheet; fields that differ; too many placements.
 */
export function makePlan(sheets: readonly Sheet[], lattice: Lattice, options: PlanOptions): Plan {
  const full = fullPlanOptions(options);
  const { direction, fill, start, stepping } = full;
  const bare = planCloth(full);
  const { usable, table } = bare;
  const laid = sheetLattice(sheets, lattice, direction);
  const unit = laidLattice(lattice, direction);
  const laidSheets = sheets.map((sheet) => laidSheet(sheet, direction));
  const [{ paper, firstDot, cornerDot }] = laidSheets;
  const origin = firstField(laid, usable, full.align);
  const fields = layPlacements(laid, usable, { origin, fill, start });
  const cloth = { ...bare, ...lateStart(laid, fields) };
  const { pass, order, passes, choice } = makePasses(fields, laid, {
    stepping,
    wipeEvery: full.wipeEvery,
    conflicts: wetConflicts(laidSheets, laid),
  });
  const placements = fields.map((field, k) => numbered(field, firstDot.at, { pass: pass[k], order: order[k] }));
  const faces = full.faces === 'both' ? (['front', 'back'] as const) : (['front'] as const);
  const schedule = makeSchedule(passes, { ...full.time, sheets: sheets.length, faces });
  const whole = placements.filter((p) => p.whole).length;
  const shares = placements.reduce((sum, p) => sum + p.share, 0);
  const shrinkAlongPercent = cloth.shrinkAlongPercent ?? 0;
  return {
    cloth,
    direction,
    start,
    fill,
    lattice: laid,
    sheetBox: paper,
    origin,
    across: most(placements, ({ column }) => column),
    along: most(placements, ({ row }) => row),
    placements,
    whole,
    cut: placements.length - whole,
    masks: clothMasks(fields, usable, table),
    leftover: clothLeftover(laid, usable, fields),
    trimmedWidthMm: Math.max(0, laid.widthMm - (usable.x1 - usable.x0)),
    fittingSizes: fittingSizes(unit, usable.x1 - usable.x0, { turned: direction === 'across' }),
    ground: groundLine(fields, laid, { origin, every: full.checkEvery, dot: cornerDot }),
    marking: stepping === 'on' ? null : markingWalk(fields, laid),
    choice,
    passes,
    schedule,
    paste: estimatePaste(sheets, shares * faces.length, full.paste),
    wear: estimateWear(sheets, { placements: placements.length * faces.length, passes: schedule.passes }, full.wear),
    order:
      full.order &&
      lengthToOrder(full.order, {
        repeatMm: straightTile(unit).heightMm,
        shrinkAlongPercent,
        endsMm: full.cloth.startMm + full.cloth.endMm + cloth.headWasteMm,
      }),
    panels:
      full.panels &&
      planPanels(unit, full.panels, { usable, firstMm: usable.y0 + cloth.headWasteMm, shrinkAlongPercent }),
    back: full.faces === 'both' ? backFace(placements, laid, table.widthMm) : null,
  };
}

/** Field by field: a spread of an object takes ten times as long, and there may be very many. */
function numbered(
  { id, column, row, step, field, visible, share, whole }: LaidPlacement,
  firstDot: Point,
  { pass, order }: { pass: number; order: number },
): PlanPlacement {
  const at = { x: field.x0 + firstDot.x, y: field.y0 + firstDot.y };
  return { id, column, row, step, at, field, visible, share, whole, pass, order };
}

/** The cloth turned over about its length, and the sheet too: left and right change places, and so does the way the repeat shifts. */
function backFace(placements: readonly PlanPlacement[], lattice: Lattice, widthMm: number): BackFace {
  return {
    at: placements.map(({ at }) => ({ x: widthMm - at.x, y: at.y })),
    lattice: makeLattice(reversedRepeat(lattice.repeat), lattice.widthMm, lattice.heightMm),
  };
}

function most(placements: readonly PlanPlacement[], of: (p: PlanPlacement) => number): number {
  return placements.reduce((best, p) => Math.max(best, of(p)), 0);
}
