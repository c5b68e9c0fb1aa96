import type { Finding } from '../motif/finding.js';
import { latticePoint, unitOf } from '../repeat/lattice.js';
import { BLADE_MM } from '../repeat/slight.js';
import type { Lattice } from '../repeat/types.js';
import type { Sheet } from '../stencil/types.js';
import { formatMm } from '../units/format.js';

/** Where so much of the print goes in one place, mm², somebody may have drawn it on purpose: a hairline of 0.25 × 4 mm. */
const SEEN_MM2 = 1;

/** Says once for all sheets what no cutter is given and how much of the print goes with it; nothing where all of it lies past the edges. */
export function droppedFindings(sheets: readonly Sheet[], lattice: Lattice): Finding[] {
  const places = sheets.flatMap(({ dropped = [], field }) =>
    dropped.filter(({ why }) => why !== 'beyond-edge').map((place) => ({ ...place, field })),
  );
  if (places.length === 0) return [];
  const worst = places.reduce((a, b) => (b.lostMm2 > a.lostMm2 ? b : a));
  const lostMm2 = places.reduce((sum, place) => sum + place.lostMm2, 0);
  const { box, field } = worst;
  const at = { x: (box.x0 + box.x1) / 2 - field.x0, y: (box.y0 + box.y1) / 2 - field.y0 };
  const home = latticePoint(lattice, unitOf(lattice, at));
  const gone = places.filter((place) => place.lostMm2 > LOST_FLOOR_MM2).length;
  const moved = places.length - gone;
  const seen = worst.lostMm2 >= SEEN_MM2;
  return [
    {
      code: 'too-slight-to-cut',
      topic: 'paper',
      severity: seen ? 'look' : 'note',
      message: [...goneWords(gone, lostMm2), ...(seen ? [WIDER] : []), ...movedWords(moved)].join(' '),
      atMm: { x: at.x - home.x, y: at.y - home.y },
      measure: { lostMm2, places: places.length, widthMm: worst.widthMm },
    },
  ];
}

/** Less is lost by rounding, mm². */
const LOST_FLOOR_MM2 = 1e-4;

const WIDER = 'What has to print must be drawn wider.';

function goneWords(count: number, lostMm2: number): string[] {
  if (count === 0) return [];
  const what = count === 1 ? 'One place is' : `${count} places are`;
  const area = lostMm2 < 0.01 ? 'less than 0.01' : formatMm(lostMm2, 2).replace(/ mm$/, '');
  return [
    `${what} narrower than ${formatMm(BLADE_MM)}, too narrow for any blade, and not cut: ${area} mm² of the drawing will not print.`,
  ];
}

function movedWords(count: number): string[] {
  if (count === 0) return [];
  const what = count === 1 ? 'One end runs' : `${count} ends run`;
  return [
    `${what} over the seam by too little to be cut there: the other side of the seam is cut a hair past the edge for it, and nothing is lost.`,
  ];
}
