import { type Threads, ThreadsContext } from './engine/use-engine';
import { Headline } from './headline';
import { Notice } from './notice';
import { DarkQuestion } from './open/dark-question';
import type { Studio } from './state/studio';
import { StudioContext } from './state/use-studio';
import { StepList } from './steps/step-list';
import { Table } from './views/table';

/** The whole window: the order of the work on the left, the table with cloth, sheet or pages on the right. */
export function App({ studio, threads }: { readonly studio: Studio; readonly threads: Threads }) {
  return (
    <ThreadsContext.Provider value={threads}>
      <StudioContext.Provider value={studio}>
        <Headline />
        <StepList />
        <Table />
        <Notice />
        <DarkQuestion />
      </StudioContext.Provider>
    </ThreadsContext.Provider>
  );
}
