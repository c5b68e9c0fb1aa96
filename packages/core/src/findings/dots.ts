import { contourDistance, insideContours } from '../geometry/point-tests.js';
import type { Finding } from '../motif/finding.js';
import type { Dot } from '../register/dots.js';
import type { Sheet } from '../stencil/types.js';
import { rounded } from '../units/round.js';

/** Paper that has to stay around a dot so that it does not tear out, mm (common practice, no published source). */
const PAPER_AROUND_MM = 2;

/** Dots that would be punched into an opening, or so near to one that the paper between tears. One finding for each dot. */
export function dotFindings(sheet: Sheet): Finding[] {
  return sheet.dots.flatMap((dot) => {
    const found = nearestOpening(dot, sheet);
    if (!found || found.roomMm >= PAPER_AROUND_MM) return [];
    const where =
      found.roomMm < 0
        ? `lies in opening ${found.number}`
        : `is ${rounded(found.roomMm, 2)} mm from opening ${found.number}`;
    return [
      {
        code: found.roomMm < 0 ? 'dot-in-opening' : 'dot-near-opening',
        topic: 'margin',
        severity: 'look' as const,
        message: `Dot ${dot.name} ${where}: it can't be seen or tears out there; keep a dot of paper for it, or mark the step on the border.`,
        atMm: { x: dot.at.x - sheet.field.x0, y: dot.at.y - sheet.field.y0 },
        measure: { dot: dot.name, opening: found.number, roomMm: rounded(found.roomMm, 2) },
      },
    ];
  });
}

/** The opening nearest to a dot's edge; room is negative where the dot's centre lies in an opening. */
function nearestOpening(dot: Dot, sheet: Sheet): { number: number; roomMm: number } | null {
  const reach = PAPER_AROUND_MM + dot.diameterMm;
  let best: { number: number; roomMm: number } | null = null;
  for (const o of sheet.openings) {
    const { box } = o;
    if (
      dot.at.x < box.x0 - reach ||
      dot.at.x > box.x1 + reach ||
      dot.at.y < box.y0 - reach ||
      dot.at.y > box.y1 + reach
    )
      continue;
    for (const contours of [o.firstCut, o.secondCut]) {
      if (contours.length === 0) continue;
      const room = insideContours(contours, dot.at) ? -1 : contourDistance(contours, dot.at) - dot.diameterMm / 2;
      if (!best || room < best.roomMm) best = { number: o.number, roomMm: room };
    }
  }
  return best;
}
