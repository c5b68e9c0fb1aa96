import type { Job } from '@okuri/core';
import { useStudio } from '../state/use-studio';

/** The job as it was last read, with every default in it; null until the first was. */
export function useJob(): Job | null {
  return useStudio().state.read?.job ?? null;
}
