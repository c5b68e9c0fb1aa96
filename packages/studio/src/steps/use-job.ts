import type { Job } from '@okuri/core';
import { marksOfSheet } from '@okuri/core/inside';
import { presentJob } from '../state/present-job';
import { useStudio } from '../state/use-studio';

/** What the job says now, long before the engine has read it; where it can't be read, the job as it last could. */
export function useJobNow(): Job | null {
  const { read, history } = useStudio().state;
  return presentJob(history.present.jobText) ?? read?.job ?? null;
}

/** What the job says now, without what was taken on sheets of another size. */
export function useSheetJob(): Job | null {
  const job = useJobNow();
  const { checked } = useStudio().state;
  return job === null || checked === null ? job : marksOfSheet(job, checked.lattice);
}
