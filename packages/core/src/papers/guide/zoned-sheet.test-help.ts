import type { Box } from '../../geometry/types.js';
import type { Sheet, SheetOpening, Zone } from '../../stencil/types.js';

/** A sheet with its field parted into `across × down` zones; every opening belongs to the zone in which its number stands. */
export function zonedSheet<S extends Sheet>(sheet: S, across: number, down: number): S {
  const { x0, y0, x1, y1 } = sheet.field;
  const [w, h] = [(x1 - x0) / across, (y1 - y0) / down];
  const index = ({ labelAt }: SheetOpening): number => {
    const i = Math.min(across - 1, Math.max(0, Math.floor((labelAt.x - x0) / w)));
    const j = Math.min(down - 1, Math.max(0, Math.floor((labelAt.y - y0) / h)));
    return j * across + i;
  };
  const zones = Array.from({ length: across * down }, (_, k): Zone => {
    const [i, j] = [k % across, Math.floor(k / across)];
    const box: Box = { x0: x0 + i * w, y0: y0 + j * h, x1: x0 + (i + 1) * w, y1: y0 + (j + 1) * h };
    const own = sheet.openings.filter((o) => index(o) === k);
    return {
      letter: `Z${k + 1}`,
      box,
      firstCut: own.filter((o) => o.firstCut.length > 0).map((o) => o.number),
      secondCut: own.filter((o) => o.secondCut.length > 0).map((o) => o.number),
    };
  });
  return { ...sheet, zones, openings: sheet.openings.map((o) => ({ ...o, zone: `Z${index(o) + 1}` })) };
}
