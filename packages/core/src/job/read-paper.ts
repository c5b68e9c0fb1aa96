import { formatMm } from '../units/format.js';
import { autoPaper } from './auto-paper.js';
import { LIMITS } from './limits.js';
import type { FilledJobFile } from './schema.js';
import type { Job, JobPaper } from './types.js';
import type { Values } from './values.js';

/** The paper and what is asked of it; what is "auto" goes by paper, gauze and method. A tie is never narrower than the least neck. */
export function readPaper(
  { paper, gauze, method }: Pick<FilledJobFile, 'paper' | 'gauze' | 'method'>,
  values: Values,
): JobPaper {
  const auto = autoPaper({ kind: paper.kind, gauze, method });
  const neckMm = values.lengthOrAuto('paper.neck', paper.neck, LIMITS.neckMm) ?? auto.neckMm;
  const ownWidth = values.lengthOrAuto('paper.tieWidth', paper.tieWidth, LIMITS.tieWidthMm);
  if (ownWidth !== null && ownWidth < neckMm) {
    values.at(
      'paper.tieWidth',
      `is ${formatMm(ownWidth)}, narrower than the ${formatMm(neckMm)} below which this paper tears ("paper.neck"): make the ties wider, or say "auto".`,
    );
  }
  return {
    kind: paper.kind,
    rules: {
      neckMm,
      slitMm: values.lengthOrAuto('paper.slit', paper.slit, LIMITS.slitMm) ?? auto.slitMm,
      spanMm: values.lengthOrAuto('paper.span', paper.span, LIMITS.spanMm) ?? auto.spanMm,
      tongueRatio:
        paper.tongue === 'auto' ? auto.tongueRatio : values.number('paper.tongue', paper.tongue, LIMITS.tongueRatio),
      stroke: paper.stroke,
      turnMm: values.length('paper.turn', paper.turn, LIMITS.turnMm),
    },
    tie: {
      widthMm: ownWidth ?? Math.max(auto.tieWidthMm, neckMm),
      flareMm: values.length('paper.tieFlare', paper.tieFlare, LIMITS.tieFlareMm),
      largeMm2: values.number('paper.largeIsland', paper.largeIsland, LIMITS.largeIslandMm2, ' mm²'),
      hide: paper.hideTies,
    },
  };
}

/** Two sheets for one ink: a second sheet prints over the ties of the first, so that none is cut away. */
export function readDouble(
  { double }: Pick<FilledJobFile, 'double'>,
  { ties, tieWidthMm }: { ties: Job['ties']; tieWidthMm: number },
  values: Values,
): Job['double'] {
  const overlapMm = values.length('double.overlap', double.overlap, LIMITS.doubleOverlapMm);
  if (!double.on) return { on: false, overlapMm };
  if (overlapMm > tieWidthMm) {
    values.at(
      'double.overlap',
      `is ${formatMm(overlapMm)}, more than the width of a tie, ${formatMm(tieWidthMm)}: make it smaller, or "paper.tieWidth" larger.`,
    );
  }
  for (const [ink, list] of Object.entries(ties)) {
    const release = list.find(({ kind }) => kind === 'release');
    if (release !== undefined) {
      values.at(
        'double.on',
        `is true, but ${release.id} of "ties.${ink}" is a release tie: with two sheets ties stay, so make it "printed" or take it out.`,
      );
    }
  }
  return { on: true, overlapMm };
}

/** The cutter's own pace. */
export function readPace(pace: FilledJobFile['pace'], values: Values): Job['pace'] {
  return {
    mmPerMinute: values.number('pace.mmPerMinute', pace.mmPerMinute, LIMITS.mmPerMinute, ' mm'),
    secondsPerCorner: values.number('pace.secondsPerCorner', pace.secondsPerCorner, LIMITS.secondsPerCorner, ' s'),
    bladeMm: values.length('pace.blade', pace.blade, LIMITS.bladeMm),
  };
}
