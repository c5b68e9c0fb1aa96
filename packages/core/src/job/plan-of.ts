import { makePlan } from '../cloth/plan.js';
import type { Plan } from '../cloth/plan-types.js';
import { finishedLength, tableLength } from '../cloth/yardage.js';
import { drawnSizeFinding, planFindings } from '../findings/plan.js';
import type { JobSlice } from '../job-file/job-slice.js';
import type { Finding } from '../motif/finding.js';
import type { JobResult } from './result.js';
import type { ReadBy } from './stages.js';

/** What a plan takes of a job. */
export interface PlannedJob extends Pick<JobResult, 'sheets' | 'lattice'> {
  readonly job: JobSlice<ReadBy<'plan'>>;
}

/** A unit is told to be drawn larger where the difference is more than this, mm: finer than a drawing is cut. */
const DRAWN_MM = 0.05;

/** How the job's run is printed along its cloth. Throws an `InputError` for a cloth that leaves nothing to print, or too many placements. */
export function planOf({ job, sheets, lattice }: PlannedJob): Plan {
  const { cloth, plan } = job;
  return makePlan(sheets, lattice, {
    ...plan,
    direction: cloth.direction,
    cloth: {
      widthMm: cloth.widthMm,
      lengthMm: cloth.lengthMm,
      sizes: cloth.sizes,
      shrinkAcrossPercent: cloth.shrinkAcrossPercent,
      shrinkAlongPercent: cloth.shrinkAlongPercent,
      selvedgeLeftMm: cloth.selvedgeLeftMm,
      selvedgeRightMm: cloth.selvedgeRightMm,
      startMm: cloth.startMm,
      endMm: cloth.endMm,
    },
  });
}

/** What a person should know of the job's plan, worst first. Beside the plan's own: how large the unit has to be drawn where sizes are finished ones. */
export function jobPlanFindings(result: PlannedJob, plan: Plan): Finding[] {
  const own = planFindings(plan);
  const drawn = sizeAfterFinishing(result);
  if (drawn === null) return own;
  const at = own.findIndex(({ severity }) => severity === 'note');
  return at < 0 ? [...own, drawn] : [...own.slice(0, at), drawn, ...own.slice(at)];
}

/** Nothing is scaled on the quiet: the sheet is cut as it is drawn, and what that comes to is said. */
function sizeAfterFinishing({ job, lattice }: PlannedJob): Finding | null {
  const { sizes, direction, shrinkAcrossPercent, shrinkAlongPercent } = job.cloth;
  if (sizes === 'table') return null;
  const [across, along] = [shrinkAcrossPercent ?? 0, shrinkAlongPercent ?? 0];
  const [forWidth, forHeight] = direction === 'along' ? [across, along] : [along, across];
  const { widthMm, heightMm } = lattice;
  const [drawWidthMm, drawHeightMm] = [tableLength(widthMm, forWidth), tableLength(heightMm, forHeight)];
  if (Math.abs(drawWidthMm - widthMm) < DRAWN_MM && Math.abs(drawHeightMm - heightMm) < DRAWN_MM) return null;
  const [endsWidthMm, endsHeightMm] = [finishedLength(widthMm, forWidth), finishedLength(heightMm, forHeight)];
  return drawnSizeFinding({
    widthMm,
    heightMm,
    drawWidthMm,
    drawHeightMm,
    finishedWidthMm: endsWidthMm,
    finishedHeightMm: endsHeightMm,
  });
}
