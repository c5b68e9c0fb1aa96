import type { Box } from '../geometry/types.js';
import { fractionText } from '../repeat/fraction.js';
import { shortNumber } from './plan-csv.js';
import type { FittingSize, LengthOrder, Plan, PlanCloth } from './plan-types.js';

/** A box in a document, mm. */
export interface DocumentBox {
  readonly leftMm: number;
  readonly topMm: number;
  readonly rightMm: number;
  readonly bottomMm: number;
}

/** The plan as a document for other programs. Lengths in mm, to a thousandth. */
export interface PlanDocument {
  readonly across: number;
  readonly along: number;
  readonly repeat: {
    readonly kind: string;
    readonly step: string;
    readonly widthMm: number;
    readonly heightMm: number;
  };
  readonly direction: Plan['direction'];
  readonly start: Plan['start'];
  readonly fill: Plan['fill'];
  readonly whole: number;
  readonly cut: number;
  readonly placements: readonly {
    readonly id: string;
    readonly xMm: number;
    readonly yMm: number;
    readonly pass: number;
    readonly order: number;
    readonly whole: boolean;
    readonly share: number;
  }[];
  readonly passes: readonly { readonly pass: number; readonly placements: number; readonly walkMm: number }[];
  readonly stepping: {
    readonly mode: string;
    readonly passes: number;
    readonly least: number;
    readonly wipeEvery: number | null;
  };
  readonly cloth: {
    readonly sizes: PlanCloth['sizes'];
    readonly tableWidthMm: number;
    readonly tableLengthMm: number;
    readonly finishedWidthMm: number;
    readonly finishedLengthMm: number;
    readonly shrinkAcrossPercent: number | null;
    readonly shrinkAlongPercent: number | null;
    readonly usable: DocumentBox;
    readonly headWasteMm: number;
    readonly sideWasteMm: number;
    readonly leftoverAcrossMm: number;
    readonly leftoverAlongMm: number;
    readonly plainMm2: number;
    readonly trimmedWidthMm: number;
  };
  readonly masks: readonly (DocumentBox & {
    readonly side: string;
    readonly onClothMm: number;
    readonly beyondMm: number;
  })[];
  readonly fittingSizes: readonly FittingSize[];
  readonly groundLine: {
    readonly xMm: number;
    readonly zeroXMm: number;
    readonly zeroYMm: number;
    readonly dot: string;
    readonly marks: readonly { readonly id: string; readonly acrossMm: number; readonly alongMm: number }[];
  } | null;
  readonly marking: readonly { readonly id: string; readonly from: string | null }[] | null;
  readonly time: {
    readonly estimate: true;
    readonly secondsAPlacement: number;
    readonly dryingMinutes: number;
    readonly hoursADay: number;
    readonly passesADay: number;
    readonly days: number;
  };
  readonly paste: {
    readonly estimate: true;
    readonly filmMm: number;
    readonly extraPercent: number;
    readonly densityGPerMl: number;
    readonly placements: number;
    readonly ml: number;
    readonly grams: number;
    readonly inks: readonly {
      readonly ink: string;
      readonly openMm2: number;
      readonly printedMl: number;
      readonly ml: number;
      readonly grams: number;
    }[];
  };
  readonly sheets: {
    readonly estimate: true;
    readonly placementsASheet: number;
    readonly daysASheet: number | null;
    readonly needed: readonly { readonly sheet: number; readonly ink: string; readonly needed: number }[];
  };
  readonly order: LengthOrder | null;
  readonly panels: {
    readonly count: number;
    readonly lengthMm: number;
    readonly columns: number;
    readonly neededMm: number;
    readonly wasteMm: number;
    readonly fits: boolean;
    readonly cuts: readonly { readonly fromMm: number; readonly toMm: number; readonly wasteMm: number }[];
  } | null;
  /** First dots on the back, in the order of `placements`. */
  readonly back: readonly { readonly xMm: number; readonly yMm: number }[] | null;
}

/**
 * The plan as plain data with a stable shape.
 *
 * Long because it is one literal: the document from its first key to its last.
 */
export function planDocument(plan: Plan): PlanDocument {
  const { cloth, lattice, leftover, schedule, paste, wear, order, panels, ground, choice } = plan;
  const n = shortNumber;
  return {
    across: plan.across,
    along: plan.along,
    repeat: {
      kind: lattice.repeat.kind,
      step: fractionText(lattice.repeat.step),
      widthMm: n(lattice.widthMm),
      heightMm: n(lattice.heightMm),
    },
    direction: plan.direction,
    start: plan.start,
    fill: plan.fill,
    whole: plan.whole,
    cut: plan.cut,
    placements: plan.placements.map(({ id, at, pass, order: place, whole, share }) => ({
      id,
      xMm: n(at.x),
      yMm: n(at.y),
      pass,
      order: place,
      whole,
      share: n(share),
    })),
    passes: plan.passes.map((p) => ({ ...p, walkMm: n(p.walkMm) })),
    stepping: { mode: choice.stepping, passes: choice.count, least: choice.least, wipeEvery: choice.wipeEvery },
    cloth: {
      sizes: cloth.sizes,
      tableWidthMm: n(cloth.table.widthMm),
      tableLengthMm: n(cloth.table.lengthMm),
      finishedWidthMm: n(cloth.finished.widthMm),
      finishedLengthMm: n(cloth.finished.lengthMm),
      shrinkAcrossPercent: cloth.shrinkAcrossPercent,
      shrinkAlongPercent: cloth.shrinkAlongPercent,
      usable: documentBox(cloth.usable),
      headWasteMm: n(cloth.headWasteMm),
      sideWasteMm: n(cloth.sideWasteMm),
      leftoverAcrossMm: n(leftover.acrossMm),
      leftoverAlongMm: n(leftover.alongMm),
      plainMm2: n(leftover.plainMm2),
      trimmedWidthMm: n(plan.trimmedWidthMm),
    },
    masks: plan.masks.map(({ side, box, onClothMm, beyondMm }) => ({
      side,
      ...documentBox(box),
      onClothMm: n(onClothMm),
      beyondMm: n(beyondMm),
    })),
    fittingSizes: plan.fittingSizes,
    groundLine: ground && {
      xMm: n(ground.xMm),
      zeroXMm: n(ground.zero.x),
      zeroYMm: n(ground.zero.y),
      dot: ground.dot,
      marks: ground.marks.map(({ id, acrossMm, alongMm }) => ({ id, acrossMm: n(acrossMm), alongMm: n(alongMm) })),
    },
    marking: plan.marking,
    time: {
      estimate: true,
      secondsAPlacement: schedule.secondsAPlacement,
      dryingMinutes: schedule.dryingMinutes,
      hoursADay: schedule.hoursADay,
      passesADay: n(schedule.passesADay),
      days: schedule.days,
    },
    paste: {
      estimate: true,
      filmMm: paste.filmMm,
      extraPercent: paste.extraPercent,
      densityGPerMl: paste.densityGPerMl,
      placements: n(paste.placements),
      ml: n(paste.ml),
      grams: n(paste.grams),
      inks: paste.inks.map(({ ink, openMm2, printedMl, ml, grams }) => ({
        ink,
        openMm2: n(openMm2),
        printedMl: n(printedMl),
        ml: n(ml),
        grams: n(grams),
      })),
    },
    sheets: {
      estimate: true,
      placementsASheet: wear.placementsASheet,
      daysASheet: wear.daysASheet,
      needed: wear.sheets.map(({ sheet, ink, needed }) => ({ sheet, ink, needed })),
    },
    order,
    panels: panels && {
      count: panels.count,
      lengthMm: n(panels.lengthMm),
      columns: panels.columns,
      neededMm: n(panels.neededMm),
      wasteMm: n(panels.wasteMm),
      fits: panels.fits,
      cuts: panels.panels.map((cut) => ({ fromMm: n(cut.fromMm), toMm: n(cut.toMm), wasteMm: n(cut.wasteMm) })),
    },
    back: plan.back?.at.map(({ x, y }) => ({ xMm: n(x), yMm: n(y) })) ?? null,
  };
}

function documentBox({ x0, y0, x1, y1 }: Box): DocumentBox {
  return { leftMm: shortNumber(x0), topMm: shortNumber(y0), rightMm: shortNumber(x1), bottomMm: shortNumber(y1) };
}
