import type { Job } from './types.js';

/** What paper is asked for where the job leaves it to the tool. Lengths in mm. */
export interface AutoPaper {
  readonly neckMm: number;
  readonly slitMm: number;
  readonly spanMm: number;
  /** In roots. */
  readonly tongueRatio: number;
  /** Never less than the neck that is asked for: that is the caller's to see to. */
  readonly tieWidthMm: number;
}

/** Paper that nothing is stuck on, and paper under gauze; common practice, no published source. */
const BARE = { spanMm: 50, tongueRatio: 3 } as const;
const GAUZED = { spanMm: 120, tongueRatio: 6 } as const;

/** The least neck and the width of ties; card tears sooner than treated paper. Common practice, no published source. */
const CARD = { neckMm: 3, tieWidthMm: 3 } as const;
const TREATED = { neckMm: 2, tieWidthMm: 2 } as const;

/** Gauze carries treated paper that would tear by itself. */
const GAUZED_NECK_MM = 1;

/** Paste needs a broader way through the paper than dye that is brushed on. */
const SLIT_MM = { resist: 0.8, direct: 0.5 } as const;

/** What is asked of a paper by its kind, by whether gauze is stuck on, and by how it prints. */
export function autoPaper({
  kind,
  gauze,
  method,
}: {
  kind: Job['paper']['kind'];
  gauze: boolean;
  method: Job['method'];
}): AutoPaper {
  const own = kind === 'card' ? CARD : TREATED;
  return {
    ...own,
    ...(gauze ? GAUZED : BARE),
    neckMm: gauze && kind === 'treated' ? GAUZED_NECK_MM : own.neckMm,
    slitMm: SLIT_MM[method],
  };
}
