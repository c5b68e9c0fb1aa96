import { joinBoxes } from '../geometry/boxes.js';
import type { Box } from '../geometry/types.js';
import { type LaidPlacement, TOUCH_MM } from './placements.js';
import type { ClothSize, Mask } from './plan-types.js';

/**
 * The strips that have to be covered because fields reach over the usable cloth: over its ends and into its selvedges. Each is as long as what it
 * covers; none where no field reaches over.
 */
export function clothMasks(placements: readonly LaidPlacement[], usable: Box, table: ClothSize): Mask[] {
  let reach: Box | null = null;
  for (const { field } of placements) {
    reach = reach === null ? field : joinBoxes(reach, field);
  }
  if (reach === null) return [];
  const strips: { side: Mask['side']; box: Box; onCloth: number }[] = [
    {
      side: 'start',
      box: { ...reach, y1: usable.y0 },
      onCloth: usable.y0 - Math.max(0, reach.y0),
    },
    {
      side: 'end',
      box: { ...reach, y0: usable.y1 },
      onCloth: Math.min(table.lengthMm, reach.y1) - usable.y1,
    },
    // Between the ends: the corners are covered already.
    {
      side: 'left',
      box: { x0: reach.x0, y0: usable.y0, x1: usable.x0, y1: usable.y1 },
      onCloth: usable.x0 - Math.max(0, reach.x0),
    },
    {
      side: 'right',
      box: { x0: usable.x1, y0: usable.y0, x1: reach.x1, y1: usable.y1 },
      onCloth: Math.min(table.widthMm, reach.x1) - usable.x1,
    },
  ];
  return strips.flatMap(({ side, box, onCloth }) => {
    const width = side === 'start' || side === 'end' ? box.y1 - box.y0 : box.x1 - box.x0;
    if (!(width > TOUCH_MM)) return [];
    const onClothMm = Math.max(0, onCloth);
    return [{ side, box, onClothMm, beyondMm: Math.max(0, width - onClothMm) }];
  });
}
