import type { Point, Sheet } from '@okuri/core';
import { distance, heldWidth, type LeadEdge, type SheetEnds } from '@okuri/core/inside';
import { type EdgeSample, SAMPLE_MM } from './planned-edges.js';

/** The worst place is that of a stretch, not of a single crumb of paste: the middle of so many neighbours is taken. */
const NEIGHBOURS = 3;

/** A planned place and how far the print lies from it, across the outline; NaN where the print shows no edge within reach. */
export interface MeasuredSample extends EdgeSample {
  readonly offsetMm: number;
}

/** The middle of the offsets; 0 where nothing was measured. */
export function spreadOf(samples: readonly Pick<MeasuredSample, 'offsetMm'>[]): number {
  const offsets = samples.flatMap(({ offsetMm }) => (Number.isNaN(offsetMm) ? [] : [offsetMm]));
  if (offsets.length === 0) return 0;
  const sorted = Float64Array.from(offsets).sort();
  return (sorted[(sorted.length - 1) >> 1] + sorted[sorted.length >> 1]) / 2;
}

/**
 * How every opening at a lead side was cut there, within a band as wide as a held margin: offsets across the outline with the spread of the print
 * taken off. Openings of which the print shows no edge are left out.
 */
export function leadEdgesOf(
  sheet: Sheet,
  samples: readonly MeasuredSample[],
  { ends, spreadMm }: { readonly ends: SheetEnds; readonly spreadMm: number },
): LeadEdge[] {
  const sides = sidesOf(sheet);
  const byOpening = new Map<number, (MeasuredSample & { readonly sides: readonly ('left' | 'top')[] })[]>();
  for (const sample of samples) {
    const at = sides(sample.at);
    if (at.length === 0) continue;
    const list = byOpening.get(sample.opening);
    if (list === undefined) byOpening.set(sample.opening, [{ ...sample, sides: at }]);
    else list.push({ ...sample, sides: at });
  }
  return [...byOpening.entries()]
    .flatMap(([number, own]): LeadEdge[] => {
      const shown = own.filter(({ offsetMm }) => !Number.isNaN(offsetMm));
      if (shown.length === 0) return [];
      const offsets = evened(shown, spreadMm);
      let worst = 0;
      offsets.forEach((offset, k) => {
        if (Math.abs(offset) > Math.abs(offsets[worst])) worst = k;
      });
      return [
        {
          number,
          sides: (['left', 'top'] as const).filter((side) => own.some((sample) => sample.sides.includes(side))),
          meanMm: shown.reduce((sum, { offsetMm }) => sum + offsetMm - spreadMm, 0) / shown.length,
          worstMm: offsets[worst],
          worstAt: shown[worst].at,
          shownShare: shown.length / own.length,
          joins: ends.joins.flatMap(({ name, partner, leadCut }) =>
            partner === number && leadCut !== 'second' ? [name] : [],
          ),
        },
      ];
    })
    .sort((a, b) => a.number - b.number);
}

/** At which lead sides a place lies. */
function sidesOf({ field, heldRight, heldBottom }: Sheet): (at: Point) => ('left' | 'top')[] {
  const across = heldRight === null ? heldWidth(field.x1 - field.x0) : heldRight.x1 - heldRight.x0;
  const down = heldBottom === null ? heldWidth(field.y1 - field.y0) : heldBottom.y1 - heldBottom.y0;
  return ({ x, y }) => [
    ...(x < field.x0 + across ? (['left'] as const) : []),
    ...(y < field.y0 + down ? (['top'] as const) : []),
  ];
}

/** Every offset without the spread, as the middle one of itself and its neighbours along the outline. */
function evened(samples: readonly MeasuredSample[], spreadMm: number): number[] {
  const half = (NEIGHBOURS - 1) / 2;
  return samples.map(({ at }, k) => {
    const near = samples
      .slice(Math.max(0, k - half), k + half + 1)
      .filter((other) => distance(other.at, at) <= NEIGHBOURS * SAMPLE_MM);
    // Of two the lesser: nothing stands beside it to bear it out.
    const sorted = near.map(({ offsetMm }) => offsetMm - spreadMm).sort((a, b) => a - b);
    return sorted.length % 2 === 1
      ? sorted[sorted.length >> 1]
      : sorted.reduce((a, b) => (Math.abs(a) < Math.abs(b) ? a : b));
  });
}
