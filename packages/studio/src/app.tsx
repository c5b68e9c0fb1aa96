import { type Threads, ThreadsContext } from './engine/use-engine';
import { Headline } from './headline';
import { DarkQuestion } from './open/dark-question';
import { HandedQuestion } from './open/handed-question';
import { ScaleDialog } from './open/scale-dialog';
import { SizeQuestion } from './open/size-question';
import type { Opened } from './state/open-files';
import type { Studio } from './state/studio';
import { StudioContext } from './state/use-studio';
import { StepList } from './steps/step-list';
import { Table } from './views/table';

export interface AppProps {
  readonly studio: Studio;
  readonly threads: Threads;
  /** What was named at the start and would take the place of other work at hand. */
  readonly handed: Opened | null;
}

/** The whole window: the order of the work on the left, the table with cloth, sheet or pages on the right. */
export function App({ studio, threads, handed }: AppProps) {
  return (
    <ThreadsContext.Provider value={threads}>
      <StudioContext.Provider value={studio}>
        <Headline />
        <StepList />
        <Table />
        <ScaleDialog />
        <DarkQuestion />
        <SizeQuestion />
        <HandedQuestion handed={handed} />
      </StudioContext.Provider>
    </ThreadsContext.Provider>
  );
}
