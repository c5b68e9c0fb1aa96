import { bold, regular } from 'virtual:okuri-font-metrics';
import type { FaceMetrics, FontMetrics } from '@okuri/core';

/** A face as the build wrote it: advances as pairs of the distance to the next code point, and the width. */
interface WrittenFace extends Omit<FaceMetrics, 'advances'> {
  readonly flat: readonly number[];
}

/** The widths of the bundled font, the same numbers as the command's. */
export function screenFontMetrics(): FontMetrics {
  return { regular: face(regular), bold: face(bold) };
}

function face({ flat, ...rest }: WrittenFace): FaceMetrics {
  const advances = new Map<number, number>();
  let point = 0;
  for (let k = 0; k + 1 < flat.length; k += 2) {
    point += flat[k];
    advances.set(point, flat[k + 1]);
  }
  return { ...rest, advances };
}
