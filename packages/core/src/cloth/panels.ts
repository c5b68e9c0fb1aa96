import type { Box } from '../geometry/types.js';
import { fractionalPart } from '../repeat/fraction.js';
import { straightTile } from '../repeat/lattice.js';
import type { Lattice } from '../repeat/types.js';
import { TOUCH_MM, wholeFields } from './placements.js';
import type { Panel, PanelPlan } from './plan-types.js';
import { tableLength } from './yardage.js';

/**
 * Lengths cut from a printed cloth so that their repeats match when they stand side by side, left to right in the order of cutting. Every panel is
 * `c` whole units wide; in a drop f, panel k has to begin at the place −k·c·f of the repeat R, so the cloth between one panel and the next is
 * (−c·f·R − length) modulo R. A brick comes again only after all of its rows. `lattice` is that of the unit as it lies on the cloth.
 */
export function planPanels(
  lattice: Lattice,
  wanted: { readonly count: number; readonly finishedMm: number },
  { usable, firstMm, shrinkAlongPercent }: { usable: Box; firstMm: number; shrinkAlongPercent: number },
): PanelPlan {
  const lengthMm = tableLength(wanted.finishedMm, shrinkAlongPercent);
  const width = usable.x1 - usable.x0;
  const columns = wholeFields(width, lattice.widthMm);
  const repeatMm = straightTile(lattice).heightMm;
  const panels: Panel[] = [];
  let fromMm = firstMm;
  let wasteMm = 0;
  for (let k = 0; k < wanted.count; k++) {
    const toMm = fromMm + lengthMm;
    const { p, q } = panelStart(lattice, columns, k + 1);
    const waste = k === wanted.count - 1 ? 0 : ahead((p / q) * repeatMm - (toMm - firstMm), repeatMm);
    panels.push({ fromMm, toMm, wasteMm: waste });
    wasteMm += waste;
    fromMm = toMm + waste;
  }
  const endMm = panels[panels.length - 1].toMm;
  return {
    count: wanted.count,
    finishedMm: wanted.finishedMm,
    lengthMm,
    columns,
    trimmedMm: columns === 0 ? 0 : Math.max(0, width - columns * lattice.widthMm),
    repeatMm,
    panels,
    neededMm: endMm - firstMm,
    wasteMm,
    fits: endMm <= usable.y1 + TOUCH_MM,
  };
}

/** Where in the repeat the panel with number `k` (from 0) begins, as a share of it. */
function panelStart({ repeat }: Lattice, columns: number, k: number): { p: number; q: number } {
  if (repeat.kind !== 'drop') return { p: 0, q: 1 };
  return fractionalPart({ p: -k * columns * repeat.step.p, q: repeat.step.q });
}

/** How far it is on to the next place that is `by` away modulo `repeatMm`; rounding is not a whole repeat. */
function ahead(by: number, repeatMm: number): number {
  const rest = by - Math.floor(by / repeatMm) * repeatMm;
  return repeatMm - rest <= TOUCH_MM || rest <= TOUCH_MM ? 0 : rest;
}
