import type { Contour } from '@okuri/core';
import type { NumberWriter } from '../shared/numbers.js';
import { isLine } from '../shared/straight.js';

/** SVG path data of contours, absolute commands, in mm. Contours without a single curve draw nothing and are left out. */
export function pathData(contours: readonly Contour[], num: NumberWriter): string {
  let data = '';
  for (const { closed, coords } of contours) {
    const last = coords.length - 2;
    if (last < 6) continue;
    data += `M${num(coords[0])} ${num(coords[1])}`;
    // A closing side that is straight is what Z draws.
    const drawn = closed && last > 6 && closes(coords, last) && isLine(coords, last - 6) ? last - 6 : last;
    for (let k = 0; k < drawn; k += 6) {
      data += isLine(coords, k)
        ? `L${num(coords[k + 6])} ${num(coords[k + 7])}`
        : `C${num(coords[k + 2])} ${num(coords[k + 3])} ${num(coords[k + 4])} ${num(coords[k + 5])} ${num(coords[k + 6])} ${num(coords[k + 7])}`;
    }
    if (closed) data += 'Z';
  }
  return data;
}

function closes(coords: Float64Array, last: number): boolean {
  return coords[last] === coords[0] && coords[last + 1] === coords[1];
}
