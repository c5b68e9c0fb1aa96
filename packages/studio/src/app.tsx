/** The whole window. */
export function App() {
  return <main>Okuri</main>;
}
