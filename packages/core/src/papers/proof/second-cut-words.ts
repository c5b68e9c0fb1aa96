import type { ProofOffset, SheetEnds } from '../../proof/types.js';
import type { Sheet } from '../../stencil/types.js';
import { counted } from '../../units/words.js';
import { offsetWords } from '../sheet/join-places.js';

/** Less than this is as planned, mm: what a scale tells. */
const MOVED_MM = 0.05;

/** How a strip is laid and cut by, one step each, after it is joined. */
export function secondCutSteps({ practice }: Pick<Sheet, 'practice'>): string[] {
  const seen =
    practice.transfer === 'lightbox'
      ? 'On the light table trace the dotted outline in pencil.'
      : 'Against the light trace the dotted outline in pencil; where the paper is too thick to see through, pin the strip on top by the same dots and cut through both.';
  return [
    'Lay the strip face up under the sheet, each of its dots under the dot of the same letter: a pin through both, then tape. The pale outline on it lies under the edges that are cut already.',
    seen,
    'Cut from ring to spot: a ring J is where the first cut ends, a spot J is where the edge comes to the seam. Grey comes out. End on the seam.',
    'Hatched, beyond the seam, is the next placement as it prints: it shows what the cut has to meet. Cut nothing there.',
  ];
}

/** How a proof is measured by a strip of the plan. */
export function measuringSteps(): string[] {
  return [
    'Lay the strip face up under the proof, each of its dots under the printed dot in its place (a dot of the next placement prints there); tape.',
    'At each spot J read with a scale how far the printed lead edge of the next placement lies along the seam; write it on the form “Measured at the joins”.',
  ];
}

export const KNIFE_CAUTION =
  'Blade: keep the holding hand behind it and cut away from that hand, on a mat larger than the work. Take the pins out before cutting.';

/** How many edges were measured, and which lies farthest from its plan, in a sentence or two. */
export function measuredWords({ joins, firstCutEnds }: SheetEnds, offsets: readonly ProofOffset[]): string {
  const by = new Map(offsets.map((o) => [o.name, o]));
  const known = joins.flatMap((join) => {
    const offset = by.get(join.name);
    return offset === undefined ? [] : [{ ...join, mm: offset.offsetMm }];
  });
  const taken = joins.length - known.length;
  const planned = taken === 0 ? '' : ` ${counted(taken, 'is', 'are')} taken as planned.`;
  if (known.length === 0) return `No lead edge was measured: all ${joins.length} joins are those of the plan.`;
  const moved = known.filter(({ mm }) => Math.abs(mm) >= MOVED_MM);
  const most = moved.toSorted((a, b) => Math.abs(b.mm) - Math.abs(a.mm))[0];
  const edges = firstCutEnds.filter(({ name }) => Math.abs(by.get(name)?.offsetMm ?? 0) >= MOVED_MM).length;
  const ended = edges === 0 ? '' : ` ${counted(edges, 'first cut ends', 'first cuts end')} off the plan.`;
  const far =
    most === undefined
      ? 'all lie as planned.'
      : `${moved.length} of them off the plan, ${most.name} the farthest: ${offsetWords(most.seam, most.mm)}.`;
  return `${known.length} of ${joins.length} lead edges were measured on the proof, ${far}${planned}${ended}`;
}
