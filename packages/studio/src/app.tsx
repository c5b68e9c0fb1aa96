import { EngineClient } from './engine/client';

(globalThis as any).engine = new EngineClient();
/** The whole window. */
export function App() {
  return <main>Okuri</main>;
}
