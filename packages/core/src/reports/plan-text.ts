import { passRanges } from '../cloth/pass-ranges.js';
import { type PlanDocument, planDocument } from '../cloth/plan-document.js';
import { planReport } from '../cloth/plan-report.js';
import type { Plan } from '../cloth/plan-types.js';
import { jobPlanFindings, type PlannedJob } from '../job/plan-of.js';
import type { Job } from '../job-file/types.js';
import type { Finding } from '../motif/finding.js';
import { bySeverity } from '../motif/finding.js';

/** The plan's document with what a person should know of it. */
export interface JobPlanDocument extends PlanDocument {
  readonly findings: readonly Finding[];
}

/** The plan of a job as plain data with a stable shape. */
export function jobPlanDocument(result: PlannedJob, plan: Plan): JobPlanDocument {
  return { ...planDocument(plan), findings: bySeverity(jobPlanFindings(result, plan)) };
}

/** The plan of a job in lines for a person: however many placements there are, passes and ranges only. */
export function jobPlanReport(result: PlannedJob & { readonly job: Pick<Job, 'title'> }, plan: Plan): string {
  const findings = bySeverity(jobPlanFindings(result, plan));
  const lines = [
    result.job.title,
    ...planReport(plan),
    'In each pass:',
    ...passRanges(plan),
    '',
    ...(findings.length === 0
      ? ['No findings.']
      : findings.map(({ severity, message }) => `  ${severity}  ${message}`)),
  ];
  return `${lines.join('\n')}\n`;
}
