import type { Mask, Plan } from '../../cloth/plan-types.js';
import type { Box, Point } from '../../geometry/types.js';

/** A placement on a map. */
export interface MapPlacement {
  readonly id: string;
  readonly column: number;
  readonly row: number;
  readonly pass: number;
  readonly order: number;
  readonly field: Box;
  readonly visible: Box;
}

/** One face of the cloth as a map shows it, mm on the cloth as that face is seen. */
export interface MapFace {
  readonly face: 'front' | 'back';
  readonly cloth: Box;
  readonly usable: Box;
  /** Cloth and all placements, with what of them lies beyond it. */
  readonly extent: Box;
  readonly placements: readonly MapPlacement[];
  readonly masks: readonly Mask[];
  readonly ground: {
    readonly xMm: number;
    readonly fromMm: number;
    readonly toMm: number;
    readonly zero: Point;
    readonly marks: readonly {
      readonly id: string;
      readonly at: Point;
      readonly alongMm: number;
      readonly onLine: boolean;
    }[];
  } | null;
}

/** A mark that is not farther from the ground line stands on it, mm. */
const ON_LINE_MM = 1e-6;

/** The faces of a plan that are printed: the front, and the back where it is printed too. */
export function mapFaces(plan: Plan): MapFace[] {
  const front = frontFace(plan);
  return plan.back === null ? [front] : [front, turnedOver(front)];
}

function frontFace({ cloth, placements, masks, ground }: Plan): MapFace {
  const table: Box = { x0: 0, y0: 0, x1: cloth.table.widthMm, y1: cloth.table.lengthMm };
  let { x0, y0, x1, y1 } = table;
  for (const { field } of placements) {
    x0 = Math.min(x0, field.x0);
    y0 = Math.min(y0, field.y0);
    x1 = Math.max(x1, field.x1);
    y1 = Math.max(y1, field.y1);
  }
  return {
    face: 'front',
    cloth: table,
    usable: cloth.usable,
    extent: { x0, y0, x1, y1 },
    placements,
    masks,
    ground: ground && {
      xMm: ground.xMm,
      fromMm: ground.fromMm,
      toMm: ground.toMm,
      zero: ground.zero,
      marks: ground.marks.map(({ id, at, acrossMm, alongMm }) => ({
        id,
        at,
        alongMm,
        onLine: Math.abs(acrossMm) < ON_LINE_MM,
      })),
    },
  };
}

/** Turned over about its length: left and right change places. */
function turnedOver({ cloth, usable, extent, placements, masks, ground }: MapFace): MapFace {
  const width = cloth.x1;
  const box = (b: Box): Box => ({ ...b, x0: width - b.x1, x1: width - b.x0 });
  const point = (p: Point): Point => ({ x: width - p.x, y: p.y });
  const sides = { left: 'right', right: 'left', start: 'start', end: 'end' } as const;
  return {
    face: 'back',
    cloth,
    usable: box(usable),
    extent: box(extent),
    placements: placements.map(({ id, column, row, pass, order, field, visible }) => ({
      id,
      column,
      row,
      pass,
      order,
      field: box(field),
      visible: box(visible),
    })),
    masks: masks.map((mask) => ({ ...mask, side: sides[mask.side], box: box(mask.box) })),
    ground: ground && {
      ...ground,
      xMm: width - ground.xMm,
      zero: point(ground.zero),
      marks: ground.marks.map((mark) => ({ ...mark, at: point(mark.at) })),
    },
  };
}
