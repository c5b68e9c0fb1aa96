import { Headline } from './headline';
import type { Studio } from './state/studio';
import { StudioContext } from './state/use-studio';
import { StepList } from './steps/step-list';
import { Table } from './views/table';

/** The whole window: the order of the work on the left, the table with cloth, sheet or pages on the right. */
export function App({ studio }: { readonly studio: Studio }) {
  return (
    <StudioContext.Provider value={studio}>
      <Headline />
      <StepList />
      <Table />
    </StudioContext.Provider>
  );
}
